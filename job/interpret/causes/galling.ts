import { ANGLES, alongLiftOff } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { weighed } from './criteria.ts'
import { allAround, like, plain, run, wide } from './shapes.ts'
import { declared, PLAIN } from './shared.ts'

const numbers = {
  ...ANGLES,
  ...PLAIN,
  likeNone: declared(0.95, 'share of energy', 'a loop that is the notch’s whole shape has two lobes, not several'),
  likeFull: declared(0.75, 'share of energy', 'several irregular lobes leave a quarter and more unexplained'),
  besideNone: declared(0.02, 'share of the circumference', 'a side lobe'),
  besideFull: declared(0.08, 'share of the circumference', 'at least one more lobe of like size beside it'),
  wideNone: declared(2.2, 'of the notch', 'the lobes of a patch are the coil’s own'),
  wideFull: declared(1.5, 'of the notch', 'two of them that run together'),
  runNone: declared(7, 'times the rows expected', 'a patch is not as long as a hole'),
  runFull: declared(4, 'times the rows expected', 'metal picked up by a fastener reaches over a few millimetres'),
  aroundNone: declared(0.5, 'share of the circumference', 'all around is a joint, a face or chatter'),
  aroundFull: declared(0.3, 'share of the circumference', 'a patch takes a part of the circumference')
}

export const galling = cause({
  name: 'galling',
  alsoCalled: ['galled patch', 'pick-up'],
  class: 'damage, not a crack',
  looks: 'A patch with several irregular lobes near lift-off, at a fixed place.',
  source: PRACTICE,
  numbers,
  weigh(features, v) {
    const unlike = like(features, { none: v.likeNone, full: v.likeFull })
    const beside = allAround(features, { none: v.besideNone, full: v.besideFull })
    return weighed([
      alongLiftOff(features, v),
      plain(features, { none: v.plainNone, full: v.plainFull }),
      unlike.share >= beside.share ? unlike : beside,
      wide(features, { none: v.wideNone, full: v.wideFull }),
      run(features, { none: v.runNone, full: v.runFull }),
      allAround(features, { none: v.aroundNone, full: v.aroundFull })
    ])
  }
})

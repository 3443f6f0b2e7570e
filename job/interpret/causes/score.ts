import { ANGLES, alongLiftOff } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { atLeast, weighed } from './criteria.ts'
import { allAround, moves, plain, repeats, run, wide } from './shapes.ts'
import { declared, PLAIN } from './shared.ts'

const numbers = {
  ...ANGLES,
  ...PLAIN,
  movesNone: declared(9, 'degrees', 'what jumps about is not drawn on the wall'),
  movesFull: declared(4, 'degrees', 'play of the index mark and of the feed, beside a steady helix'),
  repeatNone: declared(0.2, 'likeness', 'what two loops of noise share in a band of a few lobes'),
  repeatFull: declared(0.5, 'likeness', 'a mark on the wall comes again on the next revolution'),
  wideNone: declared(2.2, 'of the notch', 'a score is a line, not a patch'),
  wideFull: declared(1.5, 'of the notch', 'the coil makes its own width of it'),
  aroundNone: declared(0.5, 'share of the circumference', 'all around is a joint, a face, a bushing or chatter'),
  aroundFull: declared(0.3, 'share of the circumference', 'a few lines beside each other'),
  runNone: declared(0.5, 'times the rows expected', 'a nick'),
  runFull: declared(2, 'times the rows expected', 'a mark that follows the fastener or the tool runs on'),
  short: declared(0.65, 'score', 'a short nick along lift-off is a mark as well: a long run helps, and is not needed')
}

export const score = cause({
  name: 'score',
  alsoCalled: ['scratch', 'tool mark'],
  class: 'damage, not a crack',
  looks:
    'A narrow line between lift-off and the crack angle, nearer to lift-off, at one angle of the hole or on a helix, often long.',
  source: PRACTICE,
  numbers,
  weigh(features, v) {
    const long = run(features, { none: v.runNone, full: v.runFull })
    return weighed([
      alongLiftOff(features, v),
      plain(features, { none: v.plainNone, full: v.plainFull }),
      moves(features, { none: v.movesNone, full: v.movesFull }),
      repeats(features, { none: v.repeatNone, full: v.repeatFull }),
      wide(features, { none: v.wideNone, full: v.wideFull }),
      allAround(features, { none: v.aroundNone, full: v.aroundFull }),
      { ...long, share: atLeast(v.short, long.share) }
    ])
  }
})

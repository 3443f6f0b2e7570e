import { ANGLES, alongLiftOff } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { atLeast, weighed } from './criteria.ts'
import { allAround, atFace, symmetric, wide } from './shapes.ts'
import { declared, FACE } from './shared.ts'

const numbers = {
  ...FACE,
  ...ANGLES,
  lobeNone: declared(0.7, 'smaller over larger lobe', 'noise alone makes one lobe a third smaller'),
  lobeFull: declared(0.4, 'smaller over larger lobe', 'metal that stands up at one side only'),
  wideNone: declared(1.8, 'of the notch', 'a burr is narrow'),
  wideFull: declared(1.2, 'of the notch', 'the coil makes its own width of it'),
  aroundNone: declared(0.3, 'share of the circumference', 'the face itself'),
  aroundFull: declared(0.15, 'share of the circumference', 'a burr stands at a spot of the face'),
  mixed: declared(0.55, 'score', 'the angle of a burr is mixed: near lift-off it helps, elsewhere it leaves doubt')
}

export const burr = cause({
  name: 'burr',
  alsoCalled: ['nick', 'thread mark'],
  class: 'damage, not a crack',
  looks: 'Narrow and one-sided at a face; gone after deburring.',
  source: PRACTICE,
  numbers,
  weigh(features, v) {
    const angle = alongLiftOff(features, v)
    return weighed([
      atFace(features, ['entry', 'exit', 'joint'], v),
      symmetric(features, { none: v.lobeNone, full: v.lobeFull }),
      wide(features, { none: v.wideNone, full: v.wideFull }),
      allAround(features, { none: v.aroundNone, full: v.aroundFull }),
      { ...angle, share: atLeast(v.mixed, angle.share) }
    ])
  }
})

import { declared, PRACTICE, weighed } from '../causes/index.ts'
import { trackCause } from './cause.ts'
import { alongSlots, coatingRises, sharpEnds } from './shapes.ts'

export const trackCrack = trackCause({
  name: 'crack',
  alsoCalled: ['slot'],
  class: 'relevant',
  looks: 'At the angle of the slots under the same coating, with ends as sharp as the field, the coating unmoved.',
  source: PRACTICE,
  numbers: {
    angleNone: declared(45, 'degrees', 'nearer to lift-off than to the slots'),
    angleFull: declared(20, 'degrees', 'cracks turn from slots with depth and lean by as much'),
    endNone: declared(4, 'widths of the field', 'no flaw fades out over so much more than the field'),
    endFull: declared(1.5, 'widths of the field', 'twice as gentle as a slot: the depth of a crack tapers at its ends'),
    liftNone: declared(0.6, 'mm', 'a probe that is lifted so far makes a signal of its own'),
    liftFull: declared(0.25, 'mm', 'paint runs by as much within a flaw')
  },
  weigh: (features, v) =>
    weighed([
      alongSlots(features, { none: v.angleNone, full: v.angleFull }),
      sharpEnds(features, { none: v.endNone, full: v.endFull }),
      coatingRises(features, { none: v.liftNone, full: v.liftFull })
    ])
})

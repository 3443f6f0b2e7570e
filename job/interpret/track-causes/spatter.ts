import { declared, PRACTICE, weighed } from '../causes/index.ts'
import { trackCause } from './cause.ts'
import { alongLiftOff, coatingRises, lengthOf } from './shapes.ts'

export const spatter = trackCause({
  name: 'spatter',
  alsoCalled: ['weld spatter', 'bump'],
  class: 'nonrelevant',
  looks:
    'Short: the probe rides over something no longer than itself, along lift-off, and the apparent coating jumps with it.',
  source: PRACTICE,
  numbers: {
    shortNone: declared(4, 'widths of the field', 'a drop is not so long'),
    shortFull: declared(2, 'widths of the field', 'a drop and the probe that rides over it'),
    liftNone: declared(45, 'degrees', 'half way to the upright'),
    liftFull: declared(25, 'degrees', 'a lifted probe tilts too'),
    riseNone: declared(0.08, 'mm', 'paint runs by as much over so short a way'),
    riseFull: declared(0.2, 'mm', 'a drop worth the name')
  },
  weigh: (features, v) =>
    weighed([
      lengthOf(features, { none: v.shortNone, full: v.shortFull }),
      alongLiftOff(features, { none: v.liftNone, full: v.liftFull }),
      coatingRises(features, { none: v.riseNone, full: v.riseFull })
    ])
})

import { declared, PRACTICE } from '../causes/index.ts'
import { weighedAgain } from './again.ts'
import { trackCause } from './cause.ts'
import { alongLiftOff, coatingRises } from './shapes.ts'

export const liftOffJump = trackCause({
  name: 'lift-off jump',
  alsoCalled: ['probe lifted', 'lift-off'],
  class: 'false',
  looks: 'Along lift-off, with an apparent coating that jumps and comes back: the probe left the surface.',
  source: PRACTICE,
  numbers: {
    liftNone: declared(35, 'degrees', 'nearer to the upright than a lift reaches'),
    liftFull: declared(20, 'degrees', 'a hand lifts and tilts'),
    riseNone: declared(0.15, 'mm', 'paint runs by as much'),
    riseFull: declared(0.4, 'mm', 'farther than a probe on the surface moves')
  },
  weigh: (features, v) =>
    weighedAgain([
      alongLiftOff(features, { none: v.liftNone, full: v.liftFull }),
      coatingRises(features, { none: v.riseNone, full: v.riseFull })
    ])
})

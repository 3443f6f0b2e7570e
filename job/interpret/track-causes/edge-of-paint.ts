import { declared, PRACTICE, weighed } from '../causes/index.ts'
import { trackCause } from './cause.ts'
import { alongLiftOff, coatingSteps } from './shapes.ts'

export const edgeOfPaint = trackCause({
  name: 'edge of paint',
  alsoCalled: ['paint edge', 'coating step'],
  class: 'nonrelevant',
  looks:
    'The apparent coating steps from one thickness to another and stays; the signal at the step lies along lift-off.',
  source: PRACTICE,
  numbers: {
    stepNone: declared(0.1, 'mm', 'paint runs by as much along a weld'),
    stepFull: declared(0.25, 'mm', 'a coat of paint'),
    liftNone: declared(45, 'degrees', 'half way to the upright'),
    liftFull: declared(25, 'degrees', 'the probe tilts as it steps down')
  },
  weigh: (features, v) =>
    weighed([
      coatingSteps(features, { none: v.stepNone, full: v.stepFull }),
      alongLiftOff(features, { none: v.liftNone, full: v.liftFull })
    ])
})

import { declared, PRACTICE, weighed } from '../causes/index.ts'
import { trackCause } from './cause.ts'
import { alongSlots, either, gentleEnds, oneSided } from './shapes.ts'

export const trackPermeability = trackCause({
  name: 'permeability change',
  alsoCalled: ['magnetic variation', 'heat-affected zone', 'residual magnetism'],
  class: 'nonrelevant',
  looks:
    'A border between two states of the steel: gentler than the field, or without a way back, at an angle of its own.',
  source: PRACTICE,
  numbers: {
    gentleNone: declared(1, 'widths of the field', 'a slot’s end takes 0.7'),
    gentleFull: declared(2.5, 'widths of the field', 'heat does not draw sharp borders'),
    angleNone: declared(10, 'degrees', 'what lies along the slots may be one'),
    angleFull: declared(25, 'degrees', 'an angle of its own, beyond what depth turns')
  },
  weigh: (features, v) =>
    weighed([
      either(oneSided(features), gentleEnds(features, { none: v.gentleNone, full: v.gentleFull })),
      alongSlots(features, { none: v.angleNone, full: v.angleFull })
    ])
})

import { declared, PRACTICE, weighed } from '../causes/index.ts'
import { trackCause } from './cause.ts'
import { alongSlots, nearPlateEnd } from './shapes.ts'

export const endOfPlate = trackCause({
  name: 'end of plate',
  alsoCalled: ['plate edge', 'edge', 'hole in the plate'],
  class: 'nonrelevant',
  looks: 'At stated ends of the plate, or of a hole in it, the signal leaves, not the way of the slots.',
  source: PRACTICE,
  numbers: {
    nearNone: declared(4, 'widths of the field', 'farther away the probe does not see the end'),
    nearFull: declared(2, 'widths of the field', 'the field and as much as the place of the end is unsure'),
    angleNone: declared(10, 'degrees', 'what lies along the slots may be a flaw that runs into the end'),
    angleFull: declared(25, 'degrees', 'the way into air is that of lift-off, not of the slots')
  },
  weigh: (features, v) =>
    weighed([
      nearPlateEnd(features, { none: v.nearNone, full: v.nearFull }),
      alongSlots(features, { none: v.angleNone, full: v.angleFull })
    ])
})

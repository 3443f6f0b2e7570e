import { declared, PRACTICE, weighed } from '../causes/index.ts'
import { trackCause } from './cause.ts'
import { nearPlateEnd, oneSided } from './shapes.ts'

export const endOfPlate = trackCause({
  name: 'end of plate',
  alsoCalled: ['plate edge', 'edge'],
  class: 'nonrelevant',
  looks: 'At a stated end of the plate the signal leaves and does not come back.',
  source: PRACTICE,
  numbers: {
    nearNone: declared(4, 'widths of the field', 'farther away the probe does not see the end'),
    nearFull: declared(2, 'widths of the field', 'the field and as much as the place of the end is unsure')
  },
  weigh: (features, v) => weighed([oneSided(features), nearPlateEnd(features, { none: v.nearNone, full: v.nearFull })])
})

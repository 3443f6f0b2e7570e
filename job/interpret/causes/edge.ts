import { cause, PRACTICE } from './cause.ts'
import { weighed } from './criteria.ts'
import { allAround, atFace } from './shapes.ts'
import { declared, FACE } from './shared.ts'

const numbers = {
  ...FACE,
  aroundNone: declared(0.2, 'share of the circumference', 'several flaws at one depth of a small hole'),
  aroundFull: declared(0.45, 'share of the circumference', 'a face is met all around; a lobe of it may lie below half')
}

export const edge = cause({
  name: 'edge',
  alsoCalled: ['edge effect', 'exit effect', 'face'],
  class: 'nonrelevant',
  looks: 'All around the circumference at the entry or exit face, at an angle of its own.',
  source: PRACTICE,
  numbers,
  weigh: (features, v) =>
    weighed([allAround(features, { none: v.aroundNone, full: v.aroundFull }), atFace(features, ['entry', 'exit'], v)])
})

import { cause, PRACTICE } from './cause.ts'
import { weighed } from './criteria.ts'
import { allAround, asDrawn, atFace } from './shapes.ts'
import { DRAWN, declared, FACE } from './shared.ts'

const numbers = {
  ...FACE,
  drawn: DRAWN,
  aroundNone: declared(0.2, 'share of the circumference', 'several flaws at one depth of a small hole'),
  aroundFull: declared(0.45, 'share of the circumference', 'a clad sheet is clad all around')
}

export const cladding = cause({
  name: 'cladding',
  alsoCalled: ['clad layer'],
  class: 'nonrelevant',
  looks: 'All around the circumference within a few tenths of a millimetre of a face of a clad sheet.',
  source: PRACTICE,
  numbers,
  weigh: (features, v) =>
    weighed([
      allAround(features, { none: v.aroundNone, full: v.aroundFull }),
      atFace(features, ['entry', 'exit', 'joint'], v),
      asDrawn(v.drawn, 'a clad sheet')
    ])
})

import { OWN_ANGLE, ofItsOwn } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { weighed } from './criteria.ts'
import { allAround, asDrawn, atFace } from './shapes.ts'
import { DRAWN, declared, FACE } from './shared.ts'

const numbers = {
  ...FACE,
  ...OWN_ANGLE,
  drawn: DRAWN,
  aroundNone: declared(0.2, 'share of the circumference', 'several flaws at one depth of a small hole'),
  aroundFull: declared(0.45, 'share of the circumference', 'a layer of another metal lies all around')
}

export const neighborMetal = cause({
  name: 'neighbor metal',
  alsoCalled: ['neighbor material', 'dissimilar layer'],
  class: 'nonrelevant',
  looks: 'A step all around at a joint, at the angle of another metal.',
  source: PRACTICE,
  numbers,
  weigh: (features, v) =>
    weighed([
      allAround(features, { none: v.aroundNone, full: v.aroundFull }),
      atFace(features, ['joint'], v),
      ofItsOwn(features, v),
      asDrawn(v.drawn, 'a layer of another metal')
    ])
})

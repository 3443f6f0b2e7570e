import { ANGLES, alongLiftOff } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { weighed } from './criteria.ts'
import { allAround, asDrawn, atFace } from './shapes.ts'
import { DRAWN, declared, FACE } from './shared.ts'

const numbers = {
  ...FACE,
  ...ANGLES,
  drawn: DRAWN,
  aroundNone: declared(0.03, 'share of the circumference', 'a spot is no film'),
  aroundFull: declared(0.15, 'share of the circumference', 'squeezed-out sealant lies over a good part of the joint')
}

export const sealant = cause({
  name: 'sealant',
  alsoCalled: ['sealant in the joint'],
  class: 'nonrelevant',
  looks: 'Like lift-off, at a joint, over a part of the circumference or all of it.',
  source: PRACTICE,
  numbers,
  weigh: (features, v) =>
    weighed([
      alongLiftOff(features, v),
      atFace(features, ['joint'], v),
      allAround(features, { none: v.aroundNone, full: v.aroundFull }),
      asDrawn(v.drawn, 'sealant')
    ])
})

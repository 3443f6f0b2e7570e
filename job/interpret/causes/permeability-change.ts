import { OWN_ANGLE, ofItsOwn } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { weighed } from './criteria.ts'
import { asDrawn, wide } from './shapes.ts'
import { DRAWN, declared } from './shared.ts'

const numbers = {
  ...OWN_ANGLE,
  drawn: DRAWN,
  wideNone: declared(1.2, 'of the notch', 'a border between two states of the metal is not sharp'),
  wideFull: declared(1.8, 'of the notch', 'nearly twice as broad as the coil makes of any small place')
}

export const permeabilityChange = cause({
  name: 'permeability change',
  alsoCalled: ['magnetic variation', 'residual magnetism'],
  class: 'nonrelevant',
  looks: 'A broad patch in a magnetic metal at an angle of its own, neither lift-off’s nor the notches’.',
  source: PRACTICE,
  numbers,
  weigh: (features, v) =>
    weighed([
      ofItsOwn(features, v),
      wide(features, { none: v.wideNone, full: v.wideFull }),
      asDrawn(v.drawn, 'a magnetic metal, not wholly demagnetized,')
    ])
})

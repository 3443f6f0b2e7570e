import { OWN_ANGLE, ofItsOwn } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { weighed } from './criteria.ts'
import { asDrawn, run, wide } from './shapes.ts'
import { DRAWN, declared } from './shared.ts'

const numbers = {
  ...OWN_ANGLE,
  drawn: DRAWN,
  wideNone: declared(1.2, 'of the notch', 'a border between two states of the metal is not sharp'),
  wideFull: declared(1.8, 'of the notch', 'nearly twice as broad as the coil makes of any small place'),
  runNone: declared(1, 'times the rows expected', 'a patch of other heat treatment is larger than a flaw'),
  runFull: declared(2, 'times the rows expected', 'longer than the flaw sought and the footprint together')
}

export const conductivityChange = cause({
  name: 'conductivity change',
  alsoCalled: ['heat variation', 'overheated metal'],
  class: 'nonrelevant',
  looks: 'A broad, slow patch over many revolutions, at an angle between lift-off’s and the notches’.',
  source: PRACTICE,
  numbers,
  weigh: (features, v) =>
    weighed([
      ofItsOwn(features, v),
      wide(features, { none: v.wideNone, full: v.wideFull }),
      run(features, { none: v.runNone, full: v.runFull }),
      asDrawn(v.drawn, 'metal of another conductivity')
    ])
})

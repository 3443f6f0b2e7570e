import { ANGLES, alongLiftOff } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { weighed } from './criteria.ts'
import { onceOrTwice, run, wide } from './shapes.ts'
import { declared } from './shared.ts'

const numbers = {
  ...ANGLES,
  contentNone: declared(
    1,
    'of the place',
    'every hole is a little oval: it has to move the wall by as much as the place answers'
  ),
  contentFull: declared(3, 'of the place', 'what the band leaves of a slow motion is a small part of it'),
  wideNone: declared(1, 'of the notch', 'a quarter of a revolution is broader than any notch'),
  wideFull: declared(1.5, 'of the notch', 'broader than the coil makes of any small place'),
  runNone: declared(1, 'times the rows expected', 'an oval hole is so over a layer, not at a spot'),
  runFull: declared(2, 'times the rows expected', 'longer than the flaw sought and the footprint together')
}

export const ovality = cause({
  name: 'ovality',
  alsoCalled: ['out of round', 'eccentric hole', 'eccentricity', 'run-out'],
  class: 'nonrelevant',
  looks:
    'Broad along lift-off on every revolution of a layer, twice a revolution (once for a hole that is not centered).',
  source: PRACTICE,
  numbers,
  weigh(features, v) {
    const span = { none: v.contentNone, full: v.contentFull }
    const [once, twice] = [onceOrTwice(features, 1, span), onceOrTwice(features, 2, span)]
    return weighed([
      alongLiftOff(features, v),
      twice.share >= once.share ? twice : once,
      wide(features, { none: v.wideNone, full: v.wideFull }),
      run(features, { none: v.runNone, full: v.runFull })
    ])
  }
})

import { ANGLES, alongLiftOff } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { weighedFalse } from './criteria.ts'
import { allAround, atFace, onceOrTwice } from './shapes.ts'
import { declared, FACE } from './shared.ts'

const numbers = {
  ...FACE,
  ...ANGLES,
  onceNone: declared(0.5, 'of the place', 'run-out is a part of every scan'),
  onceFull: declared(1.5, 'of the place', 'a tilt moves the wall once a revolution by more than what it imitates'),
  aroundNone: declared(0.05, 'share of the circumference', 'a side lobe, or a second flaw'),
  aroundFull: declared(
    0.2,
    'share of the circumference',
    'a tilted probe meets the face over a good part of a revolution'
  )
}

export const probeNotSquare = cause({
  name: 'probe not square',
  alsoCalled: ['tilted probe'],
  class: 'false',
  looks:
    'Along lift-off at the entry or exit face, over a part of the circumference, with the wall moving once a revolution.',
  source: PRACTICE,
  numbers,
  weigh: (features, v) =>
    weighedFalse([
      alongLiftOff(features, v),
      onceOrTwice(features, 1, { none: v.onceNone, full: v.onceFull }),
      allAround(features, { none: v.aroundNone, full: v.aroundFull }),
      atFace(features, ['entry', 'exit'], v)
    ])
})

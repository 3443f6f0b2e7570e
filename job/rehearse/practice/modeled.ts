import { PI } from '@trueloop/ground/numerics'
import type { PairProbe } from '../scene.ts'

/** What is modeled in practice recordings and what is not, for a person. */

export const fromField =
  'flaws: closed cracks by the field of driver and pick-ups on the unrolled wall, corners without their edge; scaled on the alarm notch of the same model, on no measurement'

export const invented =
  'not from a field: noise, wobble, joints, scratches, how faces fade in; a crack answers with 0.78 of a notch of its size (invented)'

export const fromOwn =
  'from the reference scan of the job: gain, rotation, speed, pitch, amount of noise, step between air and metal; no filter of the instrument is modeled, and what its noise looks like is not taken over'

/** Far more than a few tens of degrees say that windings, frequency or metal are not those of the job. */
export const turnedBy = ({ flawTurn_rad = 0 }: PairProbe): string =>
  `flaws were turned by ${Math.round((180 * flawTurn_rad) / PI)}° against the field, so that its alarm notch lies as that of the job: the more, the less the model is this probe`

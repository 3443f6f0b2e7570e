/** What is modeled in practice recordings and what is not, for a person. */

export const fromField =
  'flaws: closed cracks by the field of driver and pick-ups on the unrolled wall, corners without their edge; scaled on the alarm notch of the same model, on no measurement'

export const invented =
  'not from a field: noise, wobble, joints, scratches, how faces fade in; a crack answers with 0.78 of a notch of its size (invented)'

export const fromOwn =
  'from the reference scan of the job: gain, rotation, speed, pitch, amount of noise, step between air and metal; no filter of the instrument is modeled, and what its noise looks like is not taken over'

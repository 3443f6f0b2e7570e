import { refuse } from './codes.ts'
import { MOST_UNITS } from './wall.ts'

export const MOST_PULSE_LOSS = 0.3

export const eatsPulse = (loss: number) =>
  refuse('standardize/band-eats-pulse', {
    found: `a band that takes ${Math.round(100 * loss)} % of the predicted notch pulse away`,
    needed: `at most ${MOST_PULSE_LOSS * 100} %`,
    remedy: 'lower the low corner or raise the high corner of the band in the technique'
  })

export const metalDiffers = (technique: string, standard: string) =>
  refuse('standardize/metal-differs', {
    found: `a reference standard of ${standard}`,
    needed: `the metal of the technique: ${technique}`,
    remedy: 'use a reference standard of the same metal; a set-up is never carried over between alloys'
  })

export const tooLong = () =>
  refuse('standardize/reference-too-long', {
    found: `more than ${MOST_UNITS} revolutions`,
    needed: 'one pass through the reference standard',
    remedy: 'cut the recording to one pass'
  })

export const clipped = (samples: number) =>
  refuse('standardize/clipped', {
    found: `${samples} samples at a limit of the recording`,
    needed: 'none: a clipped notch has no amplitude',
    remedy: 'lower the gain and record the reference scan again'
  })

export const unknownNotch = (id: string) =>
  refuse('standardize/unknown-notch', {
    found: `an alarm level on "${id}"`,
    needed: 'a notch of the reference standard',
    remedy: 'name one of its notches in the technique'
  })

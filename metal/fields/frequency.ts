import { TAU } from '@trueloop/ground/numerics'
import type { Quantity } from '@trueloop/ground/quantity'
import type { Refusal } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from './codes.ts'
import { LIGHT } from './vacuum.ts'

/** Refuses: fields/bad-frequency. */
export const frequencyComplaint = (frequency: Quantity<'Hz'>): Refusal<FieldsCode> | undefined =>
  frequency > 0 && Number.isFinite(frequency)
    ? undefined
    : refuse('fields/bad-frequency', {
        found: `a frequency of ${frequency} Hz`,
        needed: 'a frequency above zero',
        remedy: 'give the test frequency in Hz, kHz or MHz'
      })

/** Waves in air change the field by about (k r)^2, 1e-4 here. */
const LARGEST_PHASE = 0.01

/**
 * The field follows the current without delay: k r = 2 pi f r / c below 0.01, r the largest radius.
 * Refuses: fields/frequency-too-high.
 */
export const delayComplaint = (frequency: Quantity<'Hz'>, reach: Quantity<'m'>): Refusal<FieldsCode> | undefined =>
  TAU * frequency * reach <= LARGEST_PHASE * LIGHT
    ? undefined
    : refuse('fields/frequency-too-high', {
        found: `${frequency} Hz with a coil of ${reach} m radius`,
        needed: `at most ${Math.floor((LARGEST_PHASE * LIGHT) / (TAU * reach))} Hz, where waves in air still don't count`,
        remedy: 'check the unit of the frequency; this model knows neither waves nor the capacity of the winding'
      })

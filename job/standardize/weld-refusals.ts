import { refuse } from './codes.ts'
import type { LimitMet } from './standardization.ts'

/** Refusals of a reference block for welds and of parent metal. */

export const tooLong = () =>
  refuse('standardize/reference-too-long', {
    found: 'a run longer than a reference block',
    needed: 'one run over the slots, or one run on parent metal',
    remedy: 'cut the recording to one run'
  })

export const tooLittle = (points: number, needed: number) =>
  refuse('standardize/too-little-wall', {
    found: `${points} points of plate clear of slots`,
    needed: `${needed} points or more`,
    remedy: 'record more plate before, between and after the slots'
  })

export const clipped = (samples: number) =>
  refuse('standardize/clipped', {
    found: `${samples} samples at a limit of the recording`,
    needed: 'none: a clipped slot has no amplitude',
    remedy: 'lower the gain and run over the block again'
  })

export const absoluteClipped = (samples: number) =>
  refuse('standardize/clipped', {
    found: `${samples} samples of the absolute channel at a limit of the recording`,
    needed: 'none: a clipped channel tells no coating',
    remedy: 'lower the gain of the absolute channel and run again'
  })

export const unknownSlot = (id: string) =>
  refuse('standardize/unknown-notch', {
    found: `an alarm level on "${id}"`,
    needed: 'a slot of the reference block',
    remedy: 'name one of its slots in the technique'
  })

export const undetermined = () =>
  refuse('standardize/rotation-undetermined', {
    found: 'no run over the block whose noise has a direction',
    needed: 'at least one in which the hand’s small lift-off shows',
    remedy: 'record more clear plate beside the slots'
  })

export const shimTwice = (shim_mm: number) =>
  refuse('standardize/shims-out-of-order', {
    found: `two runs under a shim of ${shim_mm} mm`,
    needed: 'one run under each shim',
    remedy: 'correct the thickness of the shims in the job sheet, or leave one run out'
  })

export const shimsOutOfOrder = (found: string) =>
  refuse('standardize/shims-out-of-order', {
    found,
    needed: 'slots that answer less, and an absolute channel that goes one way, under every thicker shim',
    remedy: 'check which shim each run was taken under, and run over the block again'
  })

export const absoluteDiffers = (found: string) =>
  refuse('standardize/absolute-differs', {
    found,
    needed: 'the absolute channel in every run over the block, or in none',
    remedy: 'name its column in the job sheet, or record the block again'
  })

export const limitFailed = (limit: LimitMet) =>
  refuse(codeOf(limit.limit), {
    found: `${limit.limit}: ${limit.found}`,
    needed: limit.needed,
    remedy: 'check block, shim, probe and job sheet, and run over the block again'
  })

function codeOf(limit: string) {
  if (limit.startsWith('slots')) return 'standardize/notches-out-of-order'
  return limit.startsWith('shims') ? 'standardize/shim-left-out' : 'standardize/notch-below-noise'
}

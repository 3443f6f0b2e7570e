import { z } from 'zod'
import { capabilityAttached } from './kinds/capability.ts'
import { delivered, jobClosed, jobReopened, leftOut, placeClosed } from './kinds/closing.ts'
import { corrected } from './kinds/correcting.ts'
import { disposed, interpreted, noted, reamed, secondLook } from './kinds/deciding.ts'
import { drawingKept, placesDrawn } from './kinds/drawing.ts'
import { examined } from './kinds/examining.ts'
import { clockCorrected, handedOver, merged, takenOver } from './kinds/handing.ts'
import { jobOpened, techniqueConfirmed } from './kinds/job.ts'
import { documentStored, recordingKept } from './kinds/keeping.ts'
import { practiceMarked } from './kinds/practice.ts'
import { placePrepared } from './kinds/preparing.ts'
import { probeChecked } from './kinds/probing.ts'
import { heldInRegister } from './kinds/registering.ts'
import { recheck, standardized } from './kinds/standardizing.ts'

/** Every kind of entry in every version that was ever written. A new one is added; an old one never leaves. */
export const kinds = [
  jobOpened,
  techniqueConfirmed,
  documentStored,
  recordingKept,
  placePrepared,
  heldInRegister,
  standardized,
  recheck,
  examined,
  interpreted,
  disposed,
  secondLook,
  reamed,
  noted,
  placeClosed,
  leftOut,
  jobClosed,
  jobReopened,
  delivered,
  handedOver,
  takenOver,
  clockCorrected,
  capabilityAttached,
  merged,
  corrected,
  practiceMarked,
  drawingKept,
  placesDrawn,
  probeChecked
] as const

export const entrySchema = z.discriminatedUnion('kind', kinds)

export type Entry = z.output<typeof entrySchema>
export type EntryKind = Entry['kind']
export type EntryOf<Kind extends EntryKind> = Extract<Entry, { readonly kind: Kind }>

import { z } from 'zod'
import { happeningNames } from '../../plan/index.ts'
import { equipmentSchema, hashSchema, headSchema, momentSchema, subjectSchema } from './parts.ts'

/** An immutable document, named by the hash of its canonical JSON, now belongs to the job. */
export const documentStored = z.strictObject({
  kind: z.literal('document-stored'),
  version: z.literal(1),
  ...headSchema,
  document: hashSchema,
  what: z.enum([
    ...['technique', 'reference standard', 'standardization', 'examination', 'job sheet'],
    ...['response ratio', 'response study'],
    ...['person', 'instrument', 'probe', 'registered standard', 'gauge', 'registered procedure'],
    ...['other chain', 'photo']
  ] as const),
  name: z.string().optional()
})

const column = z.union([z.number().int().min(0), z.string().min(1)])

const plain = z.discriminatedUnion('of', [
  z.strictObject({ of: z.literal('reference') }),
  z.strictObject({ of: z.literal('recheck') }),
  /** flat parent metal beside a track */
  z.strictObject({ of: z.literal('parent'), track: z.string().min(1) })
])

/** An original file is kept. The order of these entries is the order in which the scans count as taken. */
export const recordingKept = z.strictObject({
  kind: z.literal('recording-kept'),
  version: z.literal(1),
  ...headSchema,
  sha256: hashSchema,
  bytes: z.number().int().min(0),
  file: z.string().min(1),
  of: z.union([plain, subjectSchema]),
  format: z.string().optional(),
  columns: z.record(z.string(), column).optional(),
  columnsKnown: z.enum(['job sheet', 'guessed and confirmed', 'certain from the file']).optional(),
  rate_Hz: z.number().positive().optional(),
  taken: momentSchema.optional(),
  /** who took it, where that is not the person who examines */
  examinedBy: z.string().min(1).optional(),
  /** what was changed or happened since the recording before it, as a person has said */
  since: z.array(z.enum(happeningNames)).min(1).optional(),
  /** its place among the recordings is not sure: it may have been taken before or after any of them */
  order: z.literal('not sure').optional(),
  /** what of the equipment differs from that of the job */
  equipment: equipmentSchema.partial().optional(),
  /** what this scan is to confirm: the content of an earlier scan of the place, or an indication of the scan before it */
  confirms: z
    .union([z.strictObject({ recording: hashSchema }), z.strictObject({ indication: z.string().min(1) })])
    .optional(),
  /** what was done otherwise for it */
  after: z.enum(['cleaned and entered again', 'other sense', 'second probe', 'second frequency']).optional(),
  /** of a reference scan or recheck: the set-up it is for, where that is not the technique's first */
  setUp: z.enum(['other sense', 'second probe', 'second frequency']).optional(),
  /** of a run over a block for welds: the shim that lay on it; 0: none */
  shim_mm: z.number().min(0).optional(),
  /** of a run along a track or block: how places are known; absent: by an encoder */
  position: z
    .union([
      z.strictObject({ by: z.literal('encoder') }),
      z.strictObject({ by: z.literal('speed'), speed_mm_s: z.number().positive() }),
      z.strictObject({ by: z.literal('marks'), at_mm: z.array(z.number()).min(2), level: z.number() })
    ])
    .optional()
})

export type After = NonNullable<z.output<typeof recordingKept>['after']>

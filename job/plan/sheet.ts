import { z } from 'zod'
import { drawingSchema } from './drawing.ts'
import { day, parameter, text } from './parameter.ts'
import { preparationSchema } from './preparation.ts'
import { responseRatioSchema, responseStudySchema } from './ratio/index.ts'
import { happeningsSchema } from './rechecking.ts'
import { demagnetizedSchema, holeStandardSchema, weldStandardSchema } from './standard.ts'
import {
  confirmationSchema,
  equipmentChangeSchema,
  equipmentSchema,
  holeTechniqueSchema,
  loopTechniqueSchema,
  personSchema,
  weldTechniqueSchema
} from './technique.ts'
import { surface, toldShape } from './told.ts'
import { probeFitnessSchema } from './weld/schema.ts'

/** The job sheet: one file that names component, holes or tracks, technique, reference standard and recordings. */

const mm = (help: string, most: number) =>
  parameter({ unit: 'mm', least: 0, most, help, why: 'larger than any part of this kind' })

const column = z.union([z.number().int().min(0).max(100_000), z.string().min(1)])

/** A column that a recording may have; null says that it has none. */
const mayBe = (help: string) => column.nullable().optional().describe(`${help}; null where the recording has none`)

/** Columns (or channels) of a recording, by number from 0 or by name. Stating them confirms them. */
export const columnsSchema = z.strictObject({
  x: column.describe('Horizontal component'),
  y: column.describe('Vertical component'),
  index: mayBe('Index pulse'),
  time: mayBe('Time stamps'),
  position: mayBe('Encoder position along the scan axis'),
  absolute: mayBe('Absolute channel'),
  rate_Hz: parameter({
    unit: 'Hz',
    least: 1,
    most: 1e8,
    help: 'Sample rate, where the file does not hold it',
    why: 'range of recorders'
  }).optional(),
  units: z
    .strictObject({
      time: text('Unit of the time stamps: s, ms, µs').optional(),
      position: text('Unit of the position: m, mm, in').optional()
    })
    .optional()
    .describe('Units, where the file does not name them'),
  decimal: z.enum(['.', ',']).optional().describe('Decimal mark, where the file leaves it open')
})

const takenAt = z.iso.datetime({ offset: true, local: true }).describe('When it was taken, ISO 8601')

const recordingBase = {
  file: text('File of the recording, from the folder of the job sheet'),
  taken: takenAt.optional(),
  examined_by: text('Who took it, where that is not the person who examines').optional(),
  since: happeningsSchema.optional().describe('What was changed or happened since the recording before it'),
  order: z
    .literal('not sure')
    .optional()
    .describe('Where nobody is sure of its place in the list: only rechecks that can not have missed it then count'),
  columns: columnsSchema.optional(),
  equipment: equipmentChangeSchema.optional().describe('What differs from the equipment of the job for this recording')
}

const referenceRecording = z.strictObject({ of: z.literal('reference'), ...recordingBase })
const recheckRecording = z.strictObject({ of: z.literal('recheck'), ...recordingBase })

/** A scan that is to confirm is worth what its own standardization is: which reference scans are for it, they say. */
const setUp = z
  .enum(['other sense', 'second probe', 'second frequency'])
  .optional()
  .describe(
    'The set-up it is for, where that is not the first of the technique; scans after it say the same in `after`'
  )

const holeReference = z.strictObject({ ...referenceRecording.shape, set_up: setUp })
const holeRecheck = z.strictObject({ ...recheckRecording.shape, set_up: setUp })

const holeRecording = z.strictObject({
  of: z.literal('hole'),
  hole: text('Name of the hole'),
  ...recordingBase,
  confirms: text(
    'What it is to confirm: the file of an earlier recording of this hole, or an indication of the scan before it'
  ).optional(),
  after: z
    .enum(['cleaned and entered again', 'other sense', 'second probe', 'second frequency'])
    .optional()
    .describe('What was done otherwise for a recording that confirms')
})

/** How the place of a sample along a track is known. Nothing stated: an encoder, whose column the recording has. */
const along = {
  position: z
    .discriminatedUnion('by', [
      z.strictObject({ by: z.literal('encoder') }),
      z.strictObject({
        by: z.literal('speed'),
        speed_mm_s: mm('Speed at which the probe was moved, mm/s', 1000).min(0.1)
      }),
      z.strictObject({
        by: z.literal('marks'),
        at_mm: z
          .array(mm('Place of a mark', 100_000))
          .min(2)
          .max(10_000)
          .describe('Places of the marks, in their order'),
        level: z.number().describe('What the mark channel rises through at a mark, as recorded')
      })
    ])
    .optional()
    .describe('How the place along the track is known; an encoder where nothing is said')
}

const blockRecording = z.strictObject({
  ...referenceRecording.shape,
  ...along,
  shim_mm: mm(
    'Shim on the block for this run; 0: the bare block. Runs that follow one another are one set',
    10
  ).optional()
})
const blockRecheck = z.strictObject({ ...recheckRecording.shape, ...along })
const trackRecording = z.strictObject({
  of: z.literal('track'),
  track: text('Name of the track'),
  ...recordingBase,
  ...along
})
const parentRecording = z.strictObject({
  of: z.literal('parent'),
  track: text('Name of the track beside which the flat parent metal lies, under the same coating'),
  ...recordingBase,
  ...along
})
const loopRecording = z.strictObject({
  of: z.literal('loop'),
  place: text('What was under the probe'),
  ...recordingBase
})

const drawn = (help: string) =>
  parameter({ unit: 'mm', least: -100_000, most: 100_000, help, why: 'larger than any drawing of a component' })

export const holeSchema = z.strictObject({
  id: text('Name of the hole'),
  at: z
    .strictObject({ x_mm: drawn('To the right'), y_mm: drawn('Up') })
    .optional()
    .describe('Where it lies on the drawing of the component, for the hole map'),
  diameter_mm: mm('Diameter of the hole', 100).min(0.5),
  grip_mm: mm('Distance from entry face to exit face', 300).min(0.2),
  edge_distance_mm: mm('Distance from the center of the hole to the nearest edge of the part', 1000).optional(),
  nearest_hole_mm: mm('Distance from the center of the hole to that of the nearest other hole', 1000).optional(),
  interfaces_mm: z.array(mm('Depth of a joint from the entry face', 300)).max(20).default([]),
  layers: z.array(text('Metal of the layer')).max(21).optional().describe('Metal of each layer from the entry face'),
  demagnetized: demagnetizedSchema.optional(),
  heat_treatment: z
    .union([text('Heat treatment of all layers'), z.array(text('Heat treatment of the layer')).min(1).max(21)])
    .optional()
    .describe(
      'Heat treatment of the wall, or of each layer from the entry face; needed where a layer is ferromagnetic'
    ),
  surface: surface.optional(),
  oversize_step: text('Oversize step of the hole as the drawing or the repair names it').optional(),
  preparation: preparationSchema.optional()
})

const jobSchema = z.strictObject({
  id: text('Number of the job'),
  component: text('Component, with serial number'),
  task: text('Work order, directive or task that asks for the examination').optional(),
  place: text('Where the work is done').optional(),
  ...toldShape,
  opened: day('Day on which the job was opened'),
  demonstration: z
    .boolean()
    .default(false)
    .describe('True for invented data: marked everywhere, never to be signed off')
})

const common = {
  $schema: z.string().max(500).optional().describe('Where an editor finds the JSON Schema; not read'),
  trueloop: z.literal('job/1').describe('Kind and version of this sheet'),
  job: jobSchema,
  people: z.array(personSchema).min(1).max(100),
  examined_by: text('Name of the person who examines'),
  confirmed: confirmationSchema.optional(),
  equipment: equipmentSchema,
  columns: columnsSchema.optional(),
  drawings: z.array(drawingSchema).max(100).optional()
}

const documentFile = text('File of an approved document, from the folder of the job sheet; or the document itself')

/** Practice among what is examined, so that nobody can close the job as if it were all of the part. */
const practiceSchema = z
  .strictObject({
    count: z.number().int().min(1).max(20).describe('How many of the holes are practice'),
    answers: z
      .string()
      .regex(/^[0-9a-f]{64}$/, 'a hash has 64 hexadecimal digits')
      .describe('SHA-256 of the answers that say which and what is there; kept from everybody who examines')
  })
  .describe('Practice recordings mixed in for monitoring, as "prove mix" writes it')

export const holeSheetSchema = z.strictObject({
  ...common,
  practice: practiceSchema.optional(),
  technique: holeTechniqueSchema,
  reference_standard: holeStandardSchema,
  holes: z.array(holeSchema).min(1).max(100_000),
  response_ratios: z
    .array(z.union([documentFile, responseRatioSchema]))
    .max(50)
    .optional(),
  response_studies: z
    .array(z.union([documentFile, responseStudySchema]))
    .max(50)
    .optional(),
  recordings: z.array(z.discriminatedUnion('of', [holeReference, holeRecheck, holeRecording])).max(200_000)
})

export const weldSheetSchema = z.strictObject({
  ...common,
  technique: weldTechniqueSchema,
  reference_standard: weldStandardSchema,
  tracks: z
    .array(
      z.strictObject({
        id: text('Name of the track'),
        length_mm: mm('Length', 100_000),
        coating_mm: mm('Coating as a person states it; counts only where no absolute channel tells it', 20).optional(),
        ends_with_plate: z.boolean().optional().describe('Whether the plate ends where the track does'),
        surface: surface.optional()
      })
    )
    .min(1),
  probe_checks: z
    .array(probeFitnessSchema)
    .max(500)
    .optional()
    .describe('Checks of the probe on the block; of each probe the last one rules'),
  recordings: z
    .array(z.discriminatedUnion('of', [blockRecording, blockRecheck, trackRecording, parentRecording]))
    .max(200_000)
})

export const loopSheetSchema = z.strictObject({
  ...common,
  technique: loopTechniqueSchema,
  recordings: z.array(loopRecording).max(200_000)
})

/** The whole sheet; which of the three it is, `technique.application` says. */
export const sheetSchema = z.union([holeSheetSchema, weldSheetSchema, loopSheetSchema])

export type HoleSheet = z.output<typeof holeSheetSchema>
export type WeldSheet = z.output<typeof weldSheetSchema>
export type LoopSheet = z.output<typeof loopSheetSchema>
export type Sheet = HoleSheet | WeldSheet | LoopSheet
export type Hole = z.output<typeof holeSchema>
export type Columns = z.output<typeof columnsSchema>

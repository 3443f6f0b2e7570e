import type { StoredExamination } from '@trueloop/host/chain'
import { z } from 'zod'
import { className, count, hash, of, storedRefusal, text, texts } from './parts.ts'
import { same } from './same.ts'
import { size } from './size.ts'

/** A stored examination, word for word. Lengths in m, angles in rad, amplitudes in the unit that it names. */

type Document = StoredExamination['document']
type Indication = Document['indications'][number]

const number = z.number()
const numbers = z.array(number)
const orUnknown = z.union([number, z.literal('unknown')])
const two = z.object({ centered: number, most: number })

const position = same<Document['position']>()(
  z.object({
    axial: text,
    axialUncertainty_m: orUnknown,
    angle: z.enum(['clock', 'relative angle', 'position', 'unknown']),
    entry: number.describe('ruler position, revolutions').exactOptional(),
    exit: number.exactOptional(),
    pitch_m: number.exactOptional()
  })
)

const zone = same<Document['zones'][number]>()(
  z.object({
    ...{ zone: text, z0_m: number, z1_m: number, state: z.enum(['examined', 'not examined']) },
    ...{ covered: number.min(0).max(1), why: texts, signalToNoise: number.exactOptional() }
  })
)

const coverage = same<Document['coverage']>()(
  z.object({
    ...{ samples: count, revolutions: number, revolutionsInMetal: number },
    contact: z.array(z.object({ check: text, found: text, needed: text, met: z.boolean() })),
    speed: z.object({ least: number, mean: number, most: number, unit: text }).exactOptional()
  })
)

const dropped = same<Document['dropped'][number]>()(
  z.object({ from: number, to: number, unit: z.enum(['revolution', 'm', 'sample']), samples: number, reason: text })
)

const noise = z.object({
  ...{ matched: number, threshold: number, alarm: number, points: number },
  falseCalls: number.describe('modelled, not shown').exactOptional()
})

const oversize = z.object({
  ...{ diameter_m: number, outOfRound_m: number, standard_m: number, wider_m: number, doubt_m: number },
  ...{ gauge: text, basis: text, gap_m: two.exactOptional(), loss_dB: two.exactOptional() },
  alarm: number.exactOptional()
})

/** Documents hold the whole covariance; only this much of it is promised. */
const covariance: z.ZodType<{ readonly xx: number; readonly yy: number }> = z.looseObject({ xx: number, yy: number })

const measured = z.object({
  amplitude: number,
  place: z.enum(['corner', 'mid-bore', 'track']),
  extent_m: number.exactOptional(),
  cutAt: text.exactOptional(),
  rows: z.object({ z_m: numbers, x: numbers, y: numbers }).exactOptional(),
  noise: covariance.exactOptional(),
  faces: z.object({ from_mm: number, to_mm: number }).exactOptional()
})

const snippet = z
  .object({
    ...{ step: number, stepUnit: z.enum(['rad', 'm', 's']), x: numbers, y: numbers },
    ...{ along: numbers, alongFrom: number }
  })
  .describe('the loop, and the matched output along the axis at the angle of the peak')

const indication = same<Indication>()(
  z.object({
    ...{ id: text, zone: text, layer: number, place: z.enum(['corner', 'mid-bore', 'track', 'unknown']) },
    ...{ amplitude: number, matched: number, phase_rad: number },
    lobeOrder: z.union([z.literal(1), z.literal(-1)]),
    ...{ angle_rad: orUnknown, z_m: orUnknown, z0_m: orUnknown, z1_m: orUnknown },
    ...{ ruler: number, revolutions: number, signalToNoise: number, crossedAlarm: z.boolean() },
    class: className,
    cause: text.exactOptional(),
    evidence: z.array(z.object({ what: text, sentence: text, speaks: z.enum(['for', 'against', 'neither']) })),
    coating: z
      .object({ basis: z.enum(['measured', 'given']), mm: number, confirmed: z.boolean() })
      .describe('coating that it lies under, along a track; confirmed by parent metal beside it, or not')
      .exactOptional(),
    measured: same<NonNullable<Indication['measured']>>()(measured).exactOptional(),
    ...{ size, proposal: text, snippet: same<Indication['snippet']>()(snippet) }
  })
)

const between = { least_mm: number, median_mm: number, greatest_mm: number }

const coating = z.object({
  basis: z.enum(['measured', 'given', 'unknown']),
  given_mm: number.exactOptional(),
  apparent: z
    .object({
      least_mm: number.exactOptional(),
      median_mm: number.exactOptional(),
      greatest_mm: number.describe('absent where some of the track lies above the thickest shim').exactOptional(),
      medianOfSamples_mm: number.exactOptional(),
      aboveShims: number.describe('share of the places above the thickest shim'),
      points: z.array(z.object({ at_m: number, mean_mm: number }))
    })
    .exactOptional(),
  parent: z
    .object({
      ...{ kind: z.literal('parent metal'), recording: text, length_mm: number },
      coating: z.object(between).exactOptional(),
      liftOff: z.object({ off_rad: number, doubt_rad: number })
    })
    .exactOptional(),
  parentWhy: text.describe('"recorded", or why parent metal tells nothing'),
  shims_mm: numbers
})

const document = same<Document>()(
  z.object({
    ...{ kind: z.literal('examination'), version: z.literal(1), method: z.number().int() },
    application: z.enum(['fastener hole', 'weld', 'loop']),
    subject: text,
    amplitudeUnit: z.enum(['notch', 'recorded']),
    recording: hash,
    standardization: text.describe('name of the document, or "none"'),
    ...{ position, zones: z.array(zone), coverage, dropped: z.array(dropped) },
    noise: same<NonNullable<Document['noise']>>()(noise).exactOptional(),
    oversize: same<NonNullable<Document['oversize']>>()(oversize).exactOptional(),
    coating: same<NonNullable<Document['coating']>>()(coating).exactOptional(),
    indications: z.array(indication),
    refusals: z.array(storedRefusal),
    notes: texts
  })
)

const cells = numbers.describe(
  'Row by row along the axis, the largest matched output in each. Cells that nobody looked at are 0, as quiet ones are: the zones say what was examined.'
)

/** The wall unrolled, for the eye. */
const picture = same<NonNullable<StoredExamination['picture']>>()(
  z.object({
    ...{ rows: count, columns: count, values: cells },
    rowFrom: number.describe('first row, in revolutions of the ruler'),
    rowStep: number.describe('revolutions in a row')
  })
)

export const storedExamination = same<StoredExamination>()(
  z.object({
    ...{ job: text, examination: hash, of, name: text, document },
    picture: picture.describe('the wall unrolled; absent where the archive keeps none any more').exactOptional()
  })
)

import type { PlaceDetail } from '@trueloop/host/chain'
import { z } from 'zod'
import { placeRow } from './job.ts'
import { after, className, count, hash, moment, text, texts } from './parts.ts'
import { same } from './same.ts'

/** What the page of one place needs. Lengths in m and angles in rad, except where a name says mm. */

type Indication = PlaceDetail['indications'][number]
type Examination = PlaceDetail['examinations'][number]

const decided = { entry: text.describe('id of the entry'), by: text, at: moment, reason: text.exactOptional() }

const mm = z.number()
const layer = z.union([text, texts])

const listed = same<PlaceDetail['listed']>()(
  z.object({
    diameter_mm: mm.optional(),
    grip_mm: mm.optional(),
    edge_distance_mm: mm.optional(),
    nearest_hole_mm: mm.optional(),
    at: z.object({ x_mm: mm, y_mm: mm }).optional(),
    interfaces_mm: z.array(mm).optional(),
    layers: texts.optional(),
    zones: texts.describe('zones that the technique asks for, whatever is examined').optional(),
    length_mm: mm.optional(),
    coating_mm: mm.describe('of a track, as a person states it').optional(),
    ends_with_plate: z.boolean().optional(),
    surface: text.optional(),
    oversize_step: text.optional(),
    demagnetized: z.union([z.object({ by: text, on: text }), text]).optional(),
    heat_treatment: layer.optional()
  })
)

const sighting = same<Indication['seen'][number]>()(
  z.object({
    ...{ id: text, recording: hash, file: text, at: count.describe('place among the scans of this place') },
    after: after.exactOptional(),
    discounted: text.describe('why this scan may neither confirm nor close anything').exactOptional(),
    ...{ class: className, amplitude: z.number(), crossedAlarm: z.boolean(), zone: text },
    sizeWithheld: z.boolean(),
    cause: text.exactOptional(),
    angle_rad: z.number().exactOptional(),
    z_m: z.number().exactOptional(),
    z0_m: z.number().exactOptional(),
    z1_m: z.number().exactOptional(),
    examination: hash,
    reversed: z.boolean().describe("turned against the technique's sense: its angles run the other way")
  })
)

const unseen = same<Indication['unseen'][number]>()(
  z.object({
    ...{ recording: hash, file: text, at: count, after: after.exactOptional() },
    looked: z.boolean().describe('the scan counts, and examined the zone that it lies in')
  })
)

const indication = same<Indication>()(
  z.object({
    id: text,
    hidden: z
      .literal(true)
      .describe('class, cause and crossing are not told: this person states a class first')
      .exactOptional(),
    class: className.describe("a person's class, or without one the proposed one"),
    proposed: className,
    decided: z
      .object({
        ...{ ...decided, class: className.exclude(['undecided']) },
        beforeProposal: z.boolean().describe('stated before the person was shown the proposal')
      })
      .exactOptional(),
    crossedAlarm: z.boolean(),
    open: z.boolean().describe('waits for a person or for another scan'),
    standing: z.enum([
      ...['confirmed', 'seen again', 'not seen again', 'not scanned again'],
      ...['not scanned again after cleaning', 'closed as false by proposal']
    ] as const),
    says: text.describe('what the scans say of it together'),
    strongest: count.describe('place in "seen" of the strongest sighting'),
    seen: z.array(sighting).min(1),
    unseen: z.array(unseen)
  })
)

const standing = z.discriminatedUnion('standing', [
  z.object({ standing: z.literal('certain'), closedBy: text }),
  z.object({ standing: z.literal('provisional'), why: text }),
  z.object({ standing: z.literal('voided'), why: text, by: text.exactOptional() }),
  z.object({ standing: z.literal('no set-up to check') })
])

const zone = z.object({
  zone: text,
  state: z.enum(['examined', 'not examined']),
  covered: z.number().min(0).max(1).describe('share of the zone'),
  why: texts
})

const examination = same<Examination>()(
  z.object({
    ...{ examination: hash, recording: hash, file: text },
    standardization: text.describe('name of the document, or "none"'),
    method: z.number().int(),
    standing: same<Examination['standing']>()(standing),
    zones: z.array(zone),
    indications: count,
    refusals: texts.describe('codes'),
    after: after.exactOptional(),
    setUp: after.exclude(['cleaned and entered again']).exactOptional(),
    standardDiameter_mm: mm.exactOptional()
  })
)

const reaming = same<NonNullable<PlaceDetail['reaming']>>()(
  z.object({
    measured_mm: z.array(z.array(mm)),
    removed: z.object({ least_mm: mm, most_mm: mm }).exactOptional(),
    open: texts
  })
)

export const placeDetail = same<PlaceDetail>()(
  z.object({
    ...placeRow,
    job: text,
    application: z.enum(['fastener hole', 'weld', 'loop']),
    amplitudeUnit: z.enum(['notch', 'recorded']).describe('notch: 1 = the named notch'),
    listed: listed.describe('what the job sheet says of the place'),
    indications: z.array(indication),
    examinations: z.array(examination),
    beforeCut: z.array(examination).describe('scans of the wall before the last cut: they count for nothing now'),
    missing: z.array(z.object({ zone: text, why: texts })).describe('zones that no standing examination covers'),
    disposition: z
      .object({
        ...decided,
        disposition: z.enum(['no recordable indication', 'clean-up ream', 'reject', 'refer'])
      })
      .exactOptional(),
    looks: z.array(z.object({ ...decided, of: text.describe('id of the entry looked at'), agrees: z.boolean() })),
    notes: z.array(z.object({ ...decided, text })).describe('what people wanted to be read beside the place'),
    leftOut: z.object(decided).exactOptional(),
    closed: z.object(decided).exactOptional(),
    reaming: reaming.exactOptional()
  })
)

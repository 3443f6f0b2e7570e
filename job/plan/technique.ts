import { z } from 'zod'
import { paperShape } from './paper.ts'
import { day, parameter, text } from './parameter.ts'
import { holeProbeSchema, oversizeSchema } from './preparation.ts'
import { reamRulesSchema } from './reaming.ts'
import { recheckAllowanceSchema, recheckRulesSchema } from './rechecking.ts'
import { weldPlanSchema } from './weld/schema.ts'
import { allowedSchema, filterCornersSchema, wantedSchema } from './winding.ts'

/**
 * The technique: the approved paper as the program knows it. An immutable document, named by the hash of its canonical
 * JSON. Keys carry trade units; the rooms that compute convert at their own door (`millimetres`, see si.ts).
 */

const mm = (help: string, most: number, why = 'wider than any part of this kind; a typing error beyond') =>
  parameter({ unit: 'mm', least: 0, most, help, why })

export const personSchema = z.strictObject({
  name: text('Name of the person'),
  level: z.enum(['I', 'II', 'III']).describe('Level of qualification in eddy-current testing'),
  certificate: text('Number of the certificate').optional()
})

export const confirmationSchema = z
  .strictObject({
    by: text('Name of the person who confirms the technique'),
    level: z.enum(['I', 'II', 'III']),
    on: day('Day of the confirmation')
  })
  .describe('A technique is unconfirmed, and cannot be examined with, until a named person has confirmed it')

/** A value of the set-up and how it is known. `unknown` is examined, but sizes and proposals are then withheld. */
const setupText = (help: string) => text(`${help}; "unknown" where nobody knows`)

export const equipmentSchema = z.strictObject({
  instrument: setupText('Instrument, with serial number'),
  probe: setupText('Probe serial number'),
  cable: setupText('Cable').default('unknown'),
  drive: setupText('Drive of the coil').default('unknown'),
  gain: setupText('Gain of the instrument, or "unchanged" with the batch it holds for').default('unknown'),
  filters: setupText('Filters of the instrument before the recording, "none" where there are none').default('unknown'),
  entered_by: text('Who entered these values for this batch')
})

/** What of the equipment differs for one recording. No defaults: what is not named is as it was for the job. */
export const equipmentChangeSchema = z.strictObject({
  instrument: setupText('Instrument, with serial number').optional(),
  probe: setupText('Probe serial number').optional(),
  cable: setupText('Cable').optional(),
  drive: setupText('Drive of the coil').optional(),
  gain: setupText('Gain of the instrument').optional(),
  filters: setupText('Filters of the instrument before the recording, "none" where there are none').optional(),
  entered_by: setupText('Who entered these values').optional()
})

export const bandSchema = z
  .strictObject({
    low: parameter({
      unit: 'cycles per revolution',
      least: 0.5,
      most: 60,
      help: 'Lower corner of the band (3 dB)',
      why: 'below half a cycle nothing is a band; above 60 the smallest footprint in the largest hole is lost'
    }),
    high: parameter({
      unit: 'cycles per revolution',
      least: 2,
      most: 120,
      help: 'Upper corner of the band (3 dB)',
      why: 'the ruler has 512 points a revolution; four points a cycle are the least that is safe'
    })
  })
  .refine((band) => band.high > 1.5 * band.low, 'the upper corner must be above 1.5 times the lower')

/** Hand feed without an encoder: what the technique says of the strokes, so that depth can be told from joints and faces. */
export const handFeedSchema = z
  .strictObject({
    strokes: z
      .enum(['one way', 'through and back', 'turned inside'])
      .describe(
        'One way through the hole, through it into the air beyond and back, or turned inside the hole and back: a recording does not show which'
      ),
    fastest_to_mean: parameter({
      unit: '1',
      least: 1,
      most: 20,
      help: 'Largest ratio of the fastest feed to the mean feed between two joints or faces',
      why: 'the depth between two joints is known no better than this; shown by trials of the hand, no common value'
    })
  })
  .describe('How the probe is fed by hand; the feed never runs backward within a stroke')

const layerSchema = z.strictObject({
  metal: text('Metal of the layer'),
  thickness_mm: mm('Thickness of the layer', 300),
  tolerance_mm: mm('How far the thickness may be off', 20).optional()
})

export const holeTechniqueSchema = z.strictObject({
  application: z.literal('fastener hole'),
  ...paperShape,
  metal: text('Metal of the wall, as the certificate names it'),
  stack_up: z
    .array(layerSchema)
    .min(1)
    .max(21)
    .optional()
    .describe('Layers that this technique is for, from the entry face; holes of another stack-up are refused'),
  frequency_kHz: parameter({
    unit: 'kHz',
    least: 1,
    most: 10_000,
    help: 'Excitation frequency',
    why: 'range of eddy-current instruments for surface cracks'
  }),
  second_frequency_kHz: parameter({
    unit: 'kHz',
    least: 1,
    most: 10_000,
    help: 'Second frequency that an indication may be confirmed with, where the procedure has one',
    why: 'range of eddy-current instruments for surface cracks'
  }).optional(),
  arrangement: z.enum(['differential']).describe('Arrangement of the pick-ups'),
  probe: holeProbeSchema.optional(),
  oversize: oversizeSchema.optional(),
  lobe_spacing_mm: mm('Distance on the wall between the two lobes of a notch signal', 10).min(0.1),
  rotation_rpm: parameter({
    unit: 'rpm',
    least: 10,
    most: 12_000,
    help: 'Nominal speed of rotation',
    why: 'from a hand-turned probe to the fastest rotating scanner'
  }),
  speed_tolerance: parameter({
    unit: '1',
    least: 0.01,
    most: 0.9,
    help: 'Largest deviation from the nominal speed, as a share',
    why: 'beyond it the examination at that place is void'
  }),
  rotation_sense: text('Sense of rotation and the face it is looked at from'),
  angle_datum: text('What angle zero is: a datum on the part, or the index pulse only'),
  axial_position: z
    .enum(['entry and exit edges', 'constant feed', 'encoder', 'hand feed, by strokes'])
    .describe('Where depth comes from'),
  hand_feed: handFeedSchema.optional(),
  pitch_mm: mm('Nominal advance a revolution', 5).optional(),
  max_pitch_mm: mm('Largest advance a revolution that still counts as covered', 5),
  band: z.union([z.literal('from the footprint'), bandSchema]).describe('Band on the ruler, in cycles per revolution'),
  alarm: z.strictObject({
    notch: text('Named notch that the alarm level is a share of'),
    share: parameter({
      unit: '1',
      least: 0.05,
      most: 2,
      help: 'Alarm level as a share of the named notch',
      why: 'a level under 5 % of a notch lies in the noise of any wall'
    })
  }),
  target_flaw_mm: z.strictObject({
    depth: mm('Depth of the flaw sought', 20),
    length: mm('Length of the flaw sought', 50)
  }),
  min_signal_to_noise: parameter({
    unit: '1',
    least: 1,
    most: 100,
    help: 'Least ratio of the alarm notch to the noise of the wall',
    why: 'three to one is common practice, no source'
  }),
  min_separation_deg: parameter({
    unit: 'deg',
    least: 0.1,
    most: 90,
    help: 'Least angle between lift-off and the named notch; of the others, those below it are not used for sizing',
    why: 'it belongs to metal, frequency and probe, so the procedure states it; where it does not, only three times the repeatability of that angle is asked for'
  }).optional(),
  recheck_allowance: recheckAllowanceSchema,
  rechecks: recheckRulesSchema.optional(),
  allowed: allowedSchema.optional(),
  wanted: wantedSchema.optional(),
  filter_corners: filterCornersSchema.optional(),
  reaming: reamRulesSchema.optional(),
  zones: z
    .array(
      z
        .string()
        .regex(
          /^(layer [1-9]\d? (entry corner|mid-bore|exit corner)|countersink|counterbore)$/,
          'a zone is "layer 1 entry corner", "layer 1 mid-bore", "layer 1 exit corner" and so on, "countersink" or "counterbore"'
        )
    )
    .min(1)
    .max(70)
    .optional()
    .describe(
      'Zones that the procedure asks for: one that no examination has is "not examined", and its hole is not closed'
    ),
  corner_zones_by: text('Which notches stand for the corners of the layers'),
  may_class_by_phase_and_shape: z.array(text('Cause that may be told by phase or shape')).max(40)
})

export const weldTechniqueSchema = z.strictObject({
  application: z.literal('weld'),
  ...paperShape,
  metal: text('Metal of the weld and the parent plate'),
  frequency_kHz: parameter({
    unit: 'kHz',
    least: 1,
    most: 10_000,
    help: 'Excitation frequency',
    why: 'range of eddy-current instruments for surface cracks'
  }),
  field_width_mm: mm('Width of the field of the probe along the track', 50).min(0.2),
  max_speed_mm_s: parameter({
    unit: 'mm/s',
    least: 1,
    most: 1000,
    help: 'Largest speed along the track',
    why: 'the procedure states it'
  }),
  alarm: z.strictObject({
    slot: text('Named slot that the alarm level is a share of'),
    share: parameter({
      unit: '1',
      least: 0.05,
      most: 2,
      help: 'Alarm level as a share of the named slot',
      why: 'a level under 5 % of a slot lies in the noise of any weld'
    })
  }),
  min_signal_to_noise: parameter({
    unit: '1',
    least: 1,
    most: 100,
    help: 'Least ratio of the alarm slot to the noise of the plate',
    why: 'three to one is common practice, no source'
  }),
  plan: weldPlanSchema.optional().describe('Joint, coating, zone and lanes'),
  largest_coating_mm: mm('Largest coating that is examined through', 10, 'no procedure goes through more').optional(),
  may_class_by_phase_and_shape: z
    .array(text('Cause that may be told by phase or shape'))
    .max(40)
    .optional()
    .describe('Causes that may be told by phase or shape; none where it is absent'),
  recheck_allowance: recheckAllowanceSchema.optional(),
  rechecks: recheckRulesSchema.optional()
})

export const loopTechniqueSchema = z.strictObject({
  application: z.literal('loop'),
  ...paperShape,
  min_signal_to_noise: parameter({
    unit: '1',
    least: 2,
    most: 1000,
    help: 'Least ratio of the loop to the background of the same recording',
    why: 'below it a loop cannot be told from the background'
  })
})

export const techniqueSchema = z.discriminatedUnion('application', [
  holeTechniqueSchema,
  weldTechniqueSchema,
  loopTechniqueSchema
])

export type HoleTechnique = z.output<typeof holeTechniqueSchema>
export type WeldTechnique = z.output<typeof weldTechniqueSchema>
export type LoopTechnique = z.output<typeof loopTechniqueSchema>
export type Technique = z.output<typeof techniqueSchema>
export type Equipment = z.output<typeof equipmentSchema>
export type EquipmentChange = z.output<typeof equipmentChangeSchema>
export type Confirmation = z.output<typeof confirmationSchema>
export type Person = z.output<typeof personSchema>

/** The equipment of one recording: the job's, with what differs. */
export function equipmentWith(job: Equipment, change: EquipmentChange | undefined): Equipment {
  const named = Object.entries(change ?? {}).filter(([, value]) => value !== undefined)
  return { ...job, ...Object.fromEntries(named) }
}

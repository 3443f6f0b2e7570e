import { z } from 'zod'
import { parameter, text } from './parameter.ts'

/** The windings of a probe, and the worst in which the technique still allows it to be used: what settings are worked out from. */

const length = (help: string, most: number, why = 'larger than any coil for holes or welds') =>
  parameter({ unit: 'mm', least: 0, most, help, why })

const turns = parameter({
  unit: '1',
  least: 1,
  most: 100_000,
  help: 'Number of turns',
  why: 'more do not go into a probe'
})

const coil = {
  inner_radius_mm: length('Inner radius of the winding', 50),
  outer_radius_mm: length('Outer radius of the winding', 50).min(0.05),
  length_mm: length('Length of the winding along its axis', 50).min(0.01),
  turns,
  lift_off_mm: length('From its nearest turns to the wall: insulation, casting, wear face, tape', 10).min(0.005)
}

export const windingSchema = z
  .strictObject(coil)
  .describe('The winding that drives the wall, from the drawing of the probe or an X-ray of it')

export const pickUpsSchema = z
  .strictObject(coil)
  .describe('The pair of pick-ups: two halves of a round winding, split along the axis of the hole')

const celsius = (help: string) =>
  parameter({ unit: '°C', least: -20, most: 60, help, why: 'beyond it nobody examines by hand' })

const iacs = (help: string) =>
  parameter({ unit: '%IACS', least: 0.3, most: 108, help, why: 'from the worst conducting alloy to silver' })

/** No value of its own in any of these: what is not stated is not in the line, and the line says so. */
export const allowedSchema = z
  .strictObject({
    wear_mm: length('By how much the lift-off may grow before tape or wear face is replaced', 2).optional(),
    temperature_C: z
      .strictObject({
        low: celsius('Lowest temperature of the part'),
        high: celsius('Highest temperature of the part')
      })
      .refine(({ low, high }) => low <= high, 'the highest temperature is not below the lowest')
      .optional()
      .describe('Temperatures of the part between which the technique may be used'),
    conductivity: z
      .array(
        z.strictObject({
          metal: text('Metal, as the layers name it'),
          low_IACS: iacs('Lowest conductivity, at 20 °C'),
          high_IACS: iacs('Highest conductivity, at 20 °C'),
          source: text('Who says so: specification, or who measured it, with what, when')
        })
      )
      .max(21)
      .optional()
      .describe('Conductivities that the technique is for, of each metal; they rule over the table of materials'),
    noise_share: parameter({
      unit: '1',
      least: 0.001,
      most: 1,
      help: 'Largest noise of the wall that is expected, as a share of the alarm notch',
      why: 'noise as large as the notch leaves nothing to examine'
    }).optional()
  })
  .describe('The worst in which the technique still allows the probe to be used')

export const wantedSchema = z
  .strictObject({
    passes: parameter({
      unit: '1',
      least: 1,
      most: 50,
      help: 'Revolutions that are to answer to the flaw sought',
      why: 'one at least; beyond fifty the feed hardly moves'
    }).optional(),
    handling_s: parameter({
      unit: 's',
      least: 0,
      most: 3600,
      help: 'Time for one hole beside the scan itself: naming it, entering, looking',
      why: 'more than an hour for one hole is another task'
    }).optional()
  })
  .describe('What pitch and time are worked out for')

export const filterCornersSchema = z
  .strictObject({
    high_pass_Hz: parameter({
      unit: 'Hz',
      least: 0,
      most: 100_000,
      help: 'Corner of the high-pass of the instrument (3 dB); 0 where there is none',
      why: 'range of the filters of such instruments'
    }),
    low_pass_Hz: parameter({
      unit: 'Hz',
      least: 1,
      most: 1_000_000,
      help: 'Corner of the low-pass of the instrument (3 dB)',
      why: 'range of the filters of such instruments'
    })
  })
  .describe('Corners of the fixed filters that the instrument applies before the recording')

export type Winding = z.output<typeof windingSchema>
export type PickUps = z.output<typeof pickUpsSchema>
export type Allowed = z.output<typeof allowedSchema>
export type FilterCorners = z.output<typeof filterCornersSchema>

import { toTrade } from '@trueloop/ground/quantity'
import type { PlacedCoil } from '@trueloop/metal/fields'
import type { HoleSheet } from '../sheet.ts'
import { type BandAdvice, SEPARABLE } from './band.ts'
import type { FrequencyPoint, FrequencyWindow } from './frequency.ts'
import type { PlannedMetal } from './metal.ts'
import type { MotionAdvice } from './motion.ts'
import { proposalFor } from './proposals.ts'
import type { WorstCase } from './worst.ts'
import { type PlannedZones, zonesText } from './zone.ts'

/** Something that a person has to look at before the technique is confirmed. */
export interface SettingWarning {
  readonly of: string
  readonly found: string
  readonly what_to_do: string
  readonly source: string
}

/** What holds for the whole technique. */
export const techniqueWarnings = (
  sheet: HoleSheet,
  {
    bands,
    motion,
    coil
  }: { readonly bands: readonly BandAdvice[]; readonly motion: MotionAdvice; readonly coil: PlacedCoil }
): readonly SettingWarning[] => [
  ...halfCoil(sheet, coil),
  ...bands.flatMap(ovality),
  ...bands.flatMap((band) => filterLoss(sheet, band)),
  ...fewPasses(sheet, motion)
]

export interface ZoneView {
  readonly zones: PlannedZones
  readonly metal: PlannedMetal
  readonly standard: PlannedMetal
  readonly at: FrequencyPoint | undefined
  readonly window: FrequencyWindow | undefined
  readonly worst: WorstCase | undefined
  readonly lobes_mm: number | undefined
}

/** What holds for one zone. */
export const zoneWarnings = (sheet: HoleSheet, view: ZoneView): readonly SettingWarning[] => [
  ...asAnotherMetal(view),
  ...unchecked(view),
  ...outsideWindow(sheet, view),
  ...outsidePractice(sheet, view),
  ...noReach(sheet, view),
  ...underAlarm(view),
  ...otherLobes(sheet, view)
]

const MAGNETIC = 2

/** Steel under a technique or standard that is not steel's, or the other way around. */
function asAnotherMetal({ zones, metal, standard }: ZoneView): readonly SettingWarning[] {
  const [part, block] = [metal.permeability.value >= MAGNETIC, standard.permeability.value >= MAGNETIC]
  const apart = metal.base !== standard.base || part !== block
  if (!apart) return []
  const steel =
    part || block ? 'steel takes less gain, and a crack comes up at another angle once lift-off is level; ' : ''
  return [
    {
      of: 'another metal than the reference standard',
      found: `${zonesText(zones)}, the reference standard ${standard.name}: ${steel}a set-up is not carried over between alloys`,
      what_to_do: 'standardize on a reference standard of this metal, with settings of its own',
      source: 'common practice, no source'
    }
  ]
}

/** A model that nothing published stands behind says so where it is read, not only beside its figures. */
function unchecked({ zones, metal }: ZoneView): readonly SettingWarning[] {
  if (metal.permeability.value < MAGNETIC) return []
  return [
    {
      of: 'model without a published check',
      found: `${zonesText(zones)} is ferromagnetic: no published figures stand behind a crack in such a metal, and openings are not in the model`,
      what_to_do: 'take these figures for the direction of things alone; the reference notch decides',
      source: 'no published check was found'
    }
  ]
}

function halfCoil({ technique }: HoleSheet, { coil }: PlacedCoil): readonly SettingWarning[] {
  const { length } = technique.target_flaw_mm
  const half = toTrade(coil.outerRadius, 'mm')
  if (length >= half) return []
  return [
    {
      of: 'flaw shorter than half the coil',
      found: `a flaw of ${length} mm under a coil of ${(2 * half).toFixed(2)} mm: about half of the amplitude of a longer one`,
      what_to_do: 'take a smaller coil, or have the size sought looked at again',
      source: 'usaf-33b, 4.5.2.2'
    }
  ]
}

function ovality({ diameter_mm, over_ovality, over_three_lobes }: BandAdvice): readonly SettingWarning[] {
  const [what, times] = over_ovality < SEPARABLE ? ['ovality', over_ovality] : ['three lobes', over_three_lobes]
  if (times >= SEPARABLE) return []
  return [
    {
      of: `band that can't be told from ${what}`,
      found: `in a hole of ${diameter_mm.toFixed(2)} mm the pulse of a notch lies ${times.toFixed(1)} times above ${what}, at any speed`,
      what_to_do: 'tell them apart by the angle to lift-off, not by a filter; a smaller coil helps',
      source: 'derived: pulse center / cycles of the shape; 2 is a rule of ours'
    }
  ]
}

const NOTED_LOSS = 0.1

function filterLoss({ technique }: HoleSheet, band: BandAdvice): readonly SettingWarning[] {
  const { filter_corners: corners, rotation_rpm: rpm } = technique
  if (corners === undefined) return []
  const place = `at ${rpm} rpm in a hole of ${band.diameter_mm.toFixed(2)} mm`
  const remedy = 'set the corners for this speed and diameter: they scale with speed × diameter / footprint'
  const source = 'derived: pulse of a differential probe through the filter'
  const high = (band.high_pass_loss ?? 0) > NOTED_LOSS
  const low = corners.low_pass_Hz < band.low_pass_least_Hz
  return [
    ...(high
      ? [
          {
            of: 'high-pass of the instrument',
            found: `a corner of ${corners.high_pass_Hz} Hz takes ${(100 * (band.high_pass_loss ?? 0)).toFixed(0)} % of the pulse ${place}`,
            what_to_do: remedy,
            source
          }
        ]
      : []),
    ...(low
      ? [
          {
            of: 'low-pass of the instrument',
            found: `a corner of ${corners.low_pass_Hz} Hz, below ${band.low_pass_least_Hz.toFixed(0)} Hz, ${place}`,
            what_to_do: remedy,
            source
          }
        ]
      : [])
  ]
}

function fewPasses(
  { technique }: HoleSheet,
  { passes_at_most_pitch: passes }: MotionAdvice
): readonly SettingWarning[] {
  const wanted = technique.wanted?.passes
  if (wanted === undefined || passes >= wanted) return []
  return [
    {
      of: 'fewer passes than wanted',
      found: `${passes.toFixed(1)} revolutions answer to the flaw at the largest pitch that counts as covered, ${technique.max_pitch_mm} mm`,
      what_to_do: `make max_pitch_mm smaller: ${wanted} are wanted`,
      source: 'derived: (length + footprint) / pitch'
    }
  ]
}

function outsideWindow({ technique }: HoleSheet, { zones, window }: ZoneView): readonly SettingWarning[] {
  const kHz = technique.frequency_kHz
  if (window === undefined || (kHz >= window.low_kHz && kHz <= window.high_kHz)) return []
  return [
    {
      of: 'frequency outside the window',
      found: `${kHz} kHz in ${zonesText(zones)}; the window is ${window.low_kHz.toFixed(0)} to ${window.high_kHz.toFixed(0)} kHz`,
      what_to_do: 'have the frequency looked at again by the Level III; the procedure rules',
      source: 'modeled: flaw signal square to lift-off'
    }
  ]
}

function outsidePractice({ technique }: HoleSheet, { zones, metal }: ZoneView): readonly SettingWarning[] {
  const proposal = proposalFor(metal.base)
  const kHz = technique.frequency_kHz
  if (proposal === undefined) return []
  const { low, high } = proposal.frequencies_kHz
  if (kHz >= low && kHz <= high) return []
  return [
    {
      of: 'frequency outside what is met in practice',
      found: `${kHz} kHz for ${zonesText(zones)}; ${low} to ${high} kHz are met for ${proposal.base} holes`,
      what_to_do: 'have it confirmed by the Level III',
      source: proposal.source
    }
  ]
}

/** Deeper than this many depths of penetration nearly no current flows: 5 % are left of that at the wall. */
const FADED = 3

function noReach({ technique }: HoleSheet, { zones, at, worst }: ZoneView): readonly SettingWarning[] {
  const depth = technique.target_flaw_mm.depth
  const delta = at?.depth_of_penetration_mm
  const deep = delta !== undefined && depth > FADED * delta
  const lost = worst !== undefined && worst.over_noise_dB <= 0
  return [
    ...(deep
      ? [
          {
            of: 'depths not told apart',
            found: `the flaw sought is ${(depth / delta).toFixed(1)} depths of penetration deep in ${zonesText(zones)}: what lies below ${(FADED * delta).toFixed(2)} mm hardly changes the signal`,
            what_to_do: 'a lower frequency where depth is to be sized; finding the flaw does not need it',
            source: 'derived: 3 depths of penetration, plane wave'
          }
        ]
      : []),
    ...(lost
      ? [
          {
            of: "field that doesn't reach",
            found: `in the worst allowed case the flaw sought in ${zonesText(zones)} answers no more strongly than the noise of the wall`,
            what_to_do: 'another probe, less wear or oversize, or a larger flaw sought: as it is it can be missed',
            source: 'the line of the worst allowed case'
          }
        ]
      : [])
  ]
}

function underAlarm({ zones, worst }: ZoneView): readonly SettingWarning[] {
  if (worst === undefined || worst.over_alarm_dB > 0) return []
  return [
    {
      of: 'alarm level above the flaw sought',
      found: `in the worst allowed case it reaches ${worst.amplitude.toFixed(2)} of the alarm notch in ${zonesText(zones)}, the alarm level is ${worst.alarm_share}`,
      what_to_do: 'a lower alarm level, a smaller alarm notch, or less that is allowed to take from the amplitude',
      source: 'the line of the worst allowed case'
    }
  ]
}

/** A stated lobe spacing this far from the modeled one belongs to another probe, or to another way of measuring it. */
const LOBES_APART = 0.25

function otherLobes({ technique }: HoleSheet, { zones, lobes_mm: lobes }: ZoneView): readonly SettingWarning[] {
  const stated = technique.lobe_spacing_mm
  if (lobes === undefined || Math.abs(lobes - stated) <= LOBES_APART * stated) return []
  return [
    {
      of: 'lobe spacing',
      found: `${stated} mm are stated, the stated windings make ${lobes.toFixed(2)} mm over the flaw sought (${zonesText(zones)})`,
      what_to_do: 'measure it on the notch: band and footprint hang on it',
      source: 'modeled: the stated pick-ups, flat wall; a quarter is a rule of ours'
    }
  ]
}

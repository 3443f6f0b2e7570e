import type { CrackStatement } from '@trueloop/metal/fields'
import type { BandAdvice } from './band.ts'
import type { FrequencyPoint, FrequencyWindow } from './frequency.ts'
import type { MotionAdvice } from './motion.ts'
import type { Proposal } from './proposals.ts'
import type { Settings, ZoneSettings } from './settings.ts'
import type { WorstCase } from './worst.ts'
import { zonesText } from './zone.ts'

/** One line of the settings, for a person: what, how much, and on what it stands. */
export interface SettingLine {
  /** `technique`, zones of a kind in a metal, a hole by its diameter, or `motion`. */
  readonly part: string
  readonly label: string
  readonly value: string
  readonly stands_on: string
}

/** All that was worked out, in the order in which a person reads it. */
export const settingLines = (settings: Settings): readonly SettingLine[] => [
  ...techniqueLines(settings),
  ...settings.zones.flatMap(zoneLines),
  ...settings.bands.flatMap((band) => bandLines(settings, band)),
  ...motionLines(settings)
]

function techniqueLines({ frequency_kHz, rotation_rpm, alarm, target_mm }: Settings): readonly SettingLine[] {
  const line = (label: string, value: string): SettingLine => ({
    ...{ part: 'technique', label, value },
    stands_on: 'stated by the technique'
  })
  return [
    line('frequency', `${frequency_kHz} kHz`),
    line('rotation', `${rotation_rpm} rpm`),
    line('alarm level', `${alarm.share} of ${alarm.notch}`),
    line('flaw sought', `${target_mm.depth} mm deep, ${target_mm.length} mm long`)
  ]
}

export const partOf = ({ zones }: ZoneSettings): string => zonesText(zones)

const fixed = (value: number, digits: number): string => value.toFixed(digits)
const signed = (dB: number): string => `${dB < 0 ? '−' : '+'}${Math.abs(dB).toFixed(1)} dB`

function zoneLines(row: ZoneSettings): readonly SettingLine[] {
  const line = (label: string, value: string, stands_on: string): SettingLine => ({
    part: partOf(row),
    label,
    value,
    stands_on
  })
  return [
    line('zones', row.zones.zones.join(', '), `${row.zones.holes} holes`),
    line('conductivity', row.metal.conductivity, row.metal.source),
    ...pointLines(row.at).map(([label, value, on]) => line(label, value, on)),
    ...windowLines(row.frequency.window).map(([label, value, on]) => line(label, value, on)),
    ...proposalLines(row.proposal).map(([label, value, on]) => line(label, value, on)),
    ...modelLines(row.model).map(([label, value, on]) => line(label, value, on)),
    ...loopLines(row).map(([label, value, on]) => line(label, value, on)),
    ...worstLines(row.worst).map(([label, value, on]) => line(label, value, on))
  ]
}

type Said = readonly [label: string, value: string, stands_on: string]

const FLAT = 'modeled: closed flaw, flat wall, air-core coil'

function pointLines(at: FrequencyPoint | string): readonly Said[] {
  if (typeof at === 'string') return [['flaw signal', 'not modeled', at]]
  return [
    [
      'depth of penetration',
      `${fixed(at.depth_of_penetration_mm, 3)} mm`,
      'plane wave; under a coil the fall is faster'
    ],
    ['phase lag at the bottom of the flaw', `${fixed(at.phase_lag_deg, 0)}°`, 'plane wave, one way'],
    ['angle between lift-off and flaw', `${fixed(at.separation_deg, 0)}°`, FLAT],
    ['flaw signal, share of coil reactance', `${fixed(1000 * at.flaw_share, 2)} ‰`, FLAT],
    ['of it square to lift-off', `${fixed(1000 * at.square_share, 2)} ‰`, FLAT]
  ]
}

function windowLines(window: FrequencyWindow | undefined): readonly Said[] {
  if (window === undefined)
    return [
      ['frequency window', 'none', 'at no frequency does the flaw stand off lift-off as far as the technique asks']
    ]
  return [
    [
      'frequency window',
      `${fixed(window.low_kHz, 0)} to ${fixed(window.high_kHz, 0)} kHz, best near ${fixed(window.best_kHz, 0)} kHz`,
      FLAT
    ],
    ['why it ends there', window.reasons.join('; '), '70 % (3 dB) is a rule of ours'],
    ['what would change the window', window.would_change.join('; '), FLAT]
  ]
}

function proposalLines(proposal: Proposal | undefined): readonly Said[] {
  if (proposal === undefined) return []
  const { base, usual_kHz, source } = proposal
  const { low, high } = proposal.frequencies_kHz
  const usual = usual_kHz === undefined ? '' : `, ${usual_kHz} kHz by habit`
  return [
    [
      'proposed frequency',
      `${low} to ${high} kHz for holes in ${base}${usual}: a proposal until a person confirms it`,
      source
    ]
  ]
}

/** What stands behind the model goes with every figure that comes of it. */
const modelLines = (model: CrackStatement | undefined): readonly Said[] =>
  model === undefined ? [] : [['model', model.check, `not modeled: ${model.notModeled.join(', ')}`]]

function loopLines({ loop, modeled_width_mm: width, modeled_lobe_spacing_mm: lobes }: ZoneSettings): readonly Said[] {
  return [
    ...(width === undefined
      ? []
      : [['width of the signal across the flaw', `${fixed(width, 2)} mm`, `${FLAT}; half of the amplitude`] as const]),
    ...(lobes === undefined
      ? []
      : [['distance of the lobes', `${fixed(lobes, 2)} mm`, 'modeled: the stated pick-ups, flat wall'] as const]),
    ...(loop === undefined
      ? []
      : [
          [
            'predicted loop',
            `${fixed(loop.peak_to_peak, 2)} of the alarm notch, ${fixed(loop.angle_deg, 0)}° from lift-off`,
            lobes === undefined
              ? 'modeled: two such coils one lobe spacing apart'
              : 'modeled: the stated pick-ups, flat wall'
          ] as const
        ])
  ]
}

function worstLines(worst: WorstCase | string): readonly Said[] {
  if (typeof worst === 'string') return [['flaw sought in the worst allowed case', 'not worked out', worst]]
  const { not_stated: missing } = worst
  const without = missing.length === 0 ? '' : `; not in it, since not stated: ${missing.join(', ')}`
  return [
    ...worst.factors.map(({ of, dB, why, stated }): Said => [of, stated ? signed(dB) : 'not stated', why]),
    [
      'flaw sought in the worst allowed case',
      `${fixed(worst.amplitude, 2)} of the alarm notch`,
      `product of the lines above${without}`
    ],
    ['against the alarm level', signed(worst.over_alarm_dB), `alarm level ${worst.alarm_share} of the alarm notch`],
    [
      'against the expected noise',
      signed(worst.over_noise_dB),
      `noise ${fixed(worst.noise_share, 2)} of the alarm notch: ${worst.noise_from}`
    ]
  ]
}

function bandLines({ rotation_rpm: rpm }: Settings, band: BandAdvice): readonly SettingLine[] {
  const part = `hole of ${fixed(band.diameter_mm, 2)} mm`
  const line = (label: string, value: string, stands_on: string) => ({ part, label, value, stands_on })
  return [
    line('footprint', `${fixed(band.footprint_mm, 2)} mm`, 'from the lobe spacing: 1.18 of it'),
    line('pulse center', `${fixed(band.pulse_center, 1)} cycles/rev`, '0.375 πD/w, differential pulse, derived'),
    line(
      'band',
      `${fixed(band.band.low, 1)} to ${fixed(band.band.high, 1)} cycles/rev`,
      '0.2 πD/w to three times the pulse center, without delay: a rule of ours'
    ),
    line(
      'high-pass of the instrument',
      `at most ${fixed(band.high_pass_most_Hz, 0)} Hz at ${rpm} rpm`,
      'takes a tenth of the pulse there, first or second order'
    ),
    line(
      'low-pass of the instrument',
      `at least ${fixed(band.low_pass_least_Hz, 0)} Hz at ${rpm} rpm`,
      'twice the pulse center'
    ),
    line('above ovality', `${fixed(band.over_ovality, 1)} times`, 'below 2 no filter tells them apart, at any speed'),
    line('above three lobes', `${fixed(band.over_three_lobes, 1)} times`, 'below 2 no filter tells them apart')
  ]
}

function motionLines({ motion }: Settings): readonly SettingLine[] {
  const line = (label: string, value: string, stands_on: string) => ({ part: 'motion', label, value, stands_on })
  return [
    line('surface speed', `${fixed(motion.surface_speed_mm_s, 0)} mm/s`, 'πDn, widest hole'),
    line('time of a pulse', `${fixed(motion.pulse_ms, 2)} ms`, 'footprint / surface speed'),
    line('sample rate', `at least ${fixed(motion.sample_rate_least_Hz, 0)} Hz`, 'ten samples a pulse'),
    line('samples a revolution', `at least ${Math.ceil(motion.samples_per_revolution_least)}`, 'ten samples a pulse'),
    line('passes over the flaw', `${fixed(motion.passes, 1)}`, '(length + footprint) / pitch'),
    line(
      'passes at the largest pitch',
      `${fixed(motion.passes_at_most_pitch, 1)}`,
      '(length + footprint) / max_pitch_mm'
    ),
    ...pitchLines(motion),
    line('time for all scans', timeText(motion.time.scanning_s), `${motion.time.holes} holes, grip / pitch / speed`),
    line(
      'time for the whole job',
      motion.time.whole_s === undefined ? 'not stated' : timeText(motion.time.whole_s),
      'scans and technique.wanted.handling_s for each hole; rechecks not counted'
    )
  ]
}

const pitchLines = ({ pitch_for_passes_mm: pitch }: MotionAdvice): readonly SettingLine[] =>
  pitch === undefined
    ? []
    : [
        {
          part: 'motion',
          label: 'pitch for the wanted passes',
          value: `${fixed(pitch, 2)} mm`,
          stands_on: '(length + footprint) / technique.wanted.passes'
        }
      ]

const timeText = (seconds: number): string =>
  seconds < 600 ? `${fixed(seconds, 0)} s` : `${fixed(seconds / 60, 0)} min`

/** A line of two settings side by side; a side that has no such line says so. */
export interface BesideLine {
  readonly part: string
  readonly label: string
  readonly first: string
  readonly second: string
  readonly differs: boolean
}

const NONE = 'no such line'

/** Two settings side by side, by part and label. */
export function besideLines(first: Settings, second: Settings): readonly BesideLine[] {
  const [a, b] = [first, second].map((one) => new Map(settingLines(one).map((line) => [keyOf(line), line] as const)))
  const keys = [...new Set([...a!.keys(), ...b!.keys()])]
  return keys.map((key) => {
    const { part, label } = a!.get(key) ?? b!.get(key)!
    const [left, right] = [a!.get(key)?.value ?? NONE, b!.get(key)?.value ?? NONE]
    return { part, label, first: left, second: right, differs: left !== right }
  })
}

const keyOf = ({ part, label }: SettingLine): string => `${part}|${label}`

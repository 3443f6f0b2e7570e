import {
  type HoleSheet,
  type SettingLine,
  type Settings,
  type SettingWarning,
  type Sheet,
  settingLines
} from '../../plan/index.ts'
import { type Block, cells, heading, list, paragraph, tableOr } from '../blocks.ts'
import { cautions } from '../sections/limitations.ts'
import { techniqueFacts } from '../sections/technique.ts'
import { frequencyFigure } from './frequency-figure.ts'
import type { TechniqueSheet } from './input.ts'
import { predictedLoopFigure } from './loop-figure.ts'

/** The technique sheet as neutral blocks: what is confirmed, what the paper says, what the field says of it. */
export const techniqueSheetBlocks = (input: TechniqueSheet): readonly Block[] => [
  heading(1, 'Technique sheet'),
  ...standing(input.sheet),
  heading(2, 'Technique'),
  {
    block: 'facts',
    facts: [
      { label: 'Technique', value: titleOf(input.sheet) },
      ...techniqueFacts(input.sheet.technique),
      { label: 'Document', value: input.document, known: 'hash of its canonical JSON' }
    ]
  },
  ...('holes' in input.sheet ? standardBlocks(input.sheet) : []),
  heading(2, 'Settings from the field'),
  ...settingsBlocks(input),
  heading(2, 'Limitations and cautions'),
  list(cautions)
]

export const titleOf = ({ technique: { procedure } }: Sheet): string =>
  `${procedure.id}, revision ${procedure.revision}`

/** Whether anybody answers for it: what is proposed is nobody's yet. */
function standing({ confirmed, technique, job }: Sheet): readonly Block[] {
  const demonstration: readonly Block[] = job.demonstration
    ? [
        {
          ...{ block: 'caution', tone: 'stop', title: 'Demonstration' },
          text: 'Invented data, never to be signed off.'
        }
      ]
    : []
  const proposed = technique.proposed ?? []
  const text = `Proposed, not taken from the procedure: ${proposed.length === 0 ? 'nothing' : proposed.join(', ')}.`
  const confirmation: Block =
    confirmed === undefined
      ? {
          ...{ block: 'caution', tone: 'warning', title: 'Not confirmed: nobody may examine with this technique' },
          text: `A named Level III has to confirm it. ${text}`
        }
      : {
          ...{ block: 'caution', tone: 'note' },
          title: `Stated as confirmed by ${confirmed.by}, level ${confirmed.level}, on ${confirmed.on}`,
          text: `The signature stands in the record of the job, not on this sheet. ${text}`
        }
  return [...demonstration, confirmation]
}

const standardBlocks = ({ reference_standard: standard, technique }: HoleSheet): readonly Block[] => [
  heading(2, 'Reference standard'),
  {
    block: 'facts',
    facts: [
      { label: 'Reference standard', value: standard.id },
      { label: 'Metal', value: standard.metal },
      { label: 'Certificate', value: standard.certificate ?? 'not stated' },
      { label: 'Diameter', value: `${standard.hole_diameter_mm} mm` }
    ]
  },
  tableOr(
    {
      caption: 'Notches',
      columns: [
        { label: 'Notch' },
        { label: 'Place' },
        { label: 'Depth, mm', figures: true },
        { label: 'Length, mm', figures: true }
      ],
      rows: standard.notches.map(({ id, place, depth_mm, length_mm }) =>
        cells(id === technique.alarm.notch ? `${id} (alarm level)` : id, place, `${depth_mm}`, `${length_mm}`)
      )
    },
    'The reference standard has no notches.'
  )
]

function settingsBlocks({ settings, why }: TechniqueSheet): readonly Block[] {
  if (settings === undefined)
    return [
      {
        ...{ block: 'caution', tone: 'warning', title: 'No settings were worked out' },
        text: why ?? 'Nothing of the probe is stated.'
      }
    ]
  return [
    paragraph(
      'Worked out from the field, not measured: ratios of modeled amplitudes. None of it is a setting before a named person has confirmed it, and the approved procedure rules.'
    ),
    ...worstCautions(settings),
    ...warningBlocks(settings),
    ...partsOf(settingLines(settings)),
    ...figures(settings),
    ...(settings.without_model.length === 0
      ? []
      : [paragraph(`Zones without a model, of which nothing is said here: ${settings.without_model.join(', ')}.`)])
  ]
}

/** The line that matters comes first, for each kind of zone. */
const worstCautions = (settings: Settings): readonly Block[] =>
  settings.zones.map(({ zones: { kind, metal }, worst }): Block => {
    const where = `${kind === 'corner' ? 'Corners' : 'Mid-bore'} in ${metal}`
    if (typeof worst === 'string')
      return { block: 'caution', tone: 'warning', title: `${where}: worst allowed case not worked out`, text: worst }
    const missing = worst.not_stated.length === 0 ? '' : ` Not in it, since not stated: ${worst.not_stated.join(', ')}.`
    const margin = `${Math.abs(worst.over_alarm_dB).toFixed(1)} dB ${worst.over_alarm_dB > 0 ? 'above' : 'BELOW'} the alarm level`
    const noise = `${Math.abs(worst.over_noise_dB).toFixed(1)} dB ${worst.over_noise_dB > 0 ? 'above' : 'BELOW'} the expected noise`
    return {
      block: 'caution',
      tone: worst.over_alarm_dB > 0 && worst.over_noise_dB > 0 && missing === '' ? 'note' : 'warning',
      title: `${where}: in the worst allowed case the flaw sought is ${margin}, ${noise}`,
      text: `It then answers with ${worst.amplitude.toFixed(2)} of the alarm notch, by the model.${missing} This is no guarantee of detection.`
    }
  })

function warningBlocks(settings: Settings): readonly Block[] {
  const all = [...settings.zones.flatMap(({ warnings }) => warnings), ...settings.warnings]
  return [
    tableOr(
      {
        caption: 'To be looked at before the technique is confirmed',
        columns: [{ label: 'Warning' }, { label: 'Found' }, { label: 'What to do' }, { label: 'Source' }],
        rows: all.map(({ of, found, what_to_do, source }: SettingWarning) => cells(of, found, what_to_do, source))
      },
      'No warning was met. That says nothing of what is not modeled.'
    )
  ]
}

function partsOf(lines: readonly SettingLine[]): readonly Block[] {
  const parts = [...new Set(lines.map(({ part }) => part))]
  return parts.flatMap((part): readonly Block[] => [
    {
      block: 'table',
      caption: `${part.charAt(0).toUpperCase()}${part.slice(1)}`,
      columns: [{ label: 'Setting' }, { label: 'Value' }, { label: 'Stands on' }],
      rows: lines
        .filter((one) => one.part === part)
        .map(({ label, value, stands_on }) => cells(label, value, stands_on))
    }
  ])
}

const figures = (settings: Settings): readonly Block[] =>
  settings.zones.flatMap((row): readonly Block[] => [
    ...(row.frequency.sweep.length < 2 ? [] : [frequencyFigure(settings, row)]),
    ...(row.loop === undefined ? [] : [predictedLoopFigure(row, row.loop)])
  ])

import type { Technique } from '../../plan/index.ts'
import { type Block, cells, type Fact, heading, paragraph, tableOr } from '../blocks.ts'
import { notStated, percent } from '../print.ts'
import { registeredBlocks } from '../registered.ts'
import type { ReportInput, Section } from '../report-input.ts'

/** The paper that rules, and what it was carried out with; each value with how it is known. */
export const techniqueSection: Section = {
  title: 'Technique and equipment',
  blocks: (input) => [
    ...techniqueBlocks(input),
    told(input),
    heading(3, 'Equipment'),
    ...equipmentBlocks(input),
    heading(3, 'Registers'),
    ...registeredBlocks(input),
    heading(3, 'Persons'),
    persons(input)
  ]
}

/** A technique as facts: its paper, then what rules. */
export const techniqueFacts = (technique: Technique): readonly Fact[] => [...paper(technique), ...ruling(technique)]

function techniqueBlocks({ technique }: ReportInput): readonly Block[] {
  if (technique === undefined)
    return [
      paragraph('The record names no technique.'),
      blank(['Technique', 'Acceptance criteria', 'Excitation frequency', 'Alarm level'])
    ]
  const { document, hash } = technique
  const { procedure } = document
  return [
    {
      block: 'facts',
      facts: [
        { label: 'Technique', value: `${procedure.id}, revision ${procedure.revision}` },
        ...techniqueFacts(document),
        { label: 'Document', value: hash, known: 'hash of its canonical JSON' }
      ]
    }
  ]
}

/** Of the paper: where it stands, what it is for, who answers for it, what is accepted. */
function paper({
  procedure,
  approver,
  approved_method,
  second_look,
  class_first,
  acceptance
}: Technique): readonly Fact[] {
  const stated = (label: string, value: string | undefined): Fact => ({ label, value: value ?? 'not stated' })
  const share = (value: number | undefined) =>
    value === undefined ? undefined : `${percent(value)} of the named notch`
  return [
    stated('Page', procedure.page),
    stated('Effectivity', procedure.effectivity),
    stated('Level III who answers for it', approver),
    stated('Method of examination approved', approved_method?.toString()),
    stated('Second look', second_look),
    ...(class_first === true ? [{ label: 'Class before the proposal', value: 'asked for' }] : []),
    stated('Acceptance criteria', acceptance?.criteria),
    stated('Recording level', share(acceptance?.recording_share)),
    stated('Rejection level', share(acceptance?.reject_share))
  ]
}

/** What a report is asked for and the record does not hold. */
const blank = (labels: readonly string[]): Block => ({
  block: 'facts',
  facts: labels.map((label) => ({ label, value: notStated }))
})

/** What only a person can say of how the paper was followed. */
const told = ({ state: { opened } }: ReportInput): Block => ({
  block: 'facts',
  facts: [
    { label: 'Standard followed', value: opened.job.standard_followed ?? notStated },
    { label: 'Data review', value: opened.job.data_review ?? notStated },
    { label: 'Deviations from the procedure', value: opened.job.deviations ?? notStated }
  ]
})

function ruling(technique: Technique): readonly Fact[] {
  const noise: Fact = { label: 'Least signal-to-noise', value: `${technique.min_signal_to_noise}` }
  if (technique.application === 'loop') return [noise]
  const common = [
    { label: 'Metal', value: technique.metal },
    { label: 'Excitation frequency', value: `${technique.frequency_kHz} kHz` }
  ]
  return technique.application === 'weld'
    ? [...common, ...weldFacts(technique), noise]
    : [...common, ...holeFacts(technique), noise]
}

type OfWeld = Extract<Technique, { application: 'weld' }>
type OfHole = Extract<Technique, { application: 'fastener hole' }>

const weldFacts = (technique: OfWeld): readonly Fact[] => [
  { label: 'Alarm level', value: `${percent(technique.alarm.share)} of slot ${technique.alarm.slot}` },
  { label: 'Coil footprint', value: `${technique.field_width_mm} mm` },
  { label: 'Most speed', value: `${technique.max_speed_mm_s} mm/s` }
]

function holeFacts(technique: OfHole): readonly Fact[] {
  const { band, alarm, target_flaw_mm: flaw, recheck_allowance: drift } = technique
  const classes = technique.may_class_by_phase_and_shape
  return [
    { label: 'Probe', value: technique.arrangement, known: `lobe spacing ${technique.lobe_spacing_mm} mm` },
    { label: 'Alarm level', value: `${percent(alarm.share)} of notch ${alarm.notch}` },
    {
      label: 'Band-pass',
      value: typeof band === 'string' ? band : `${band.low} to ${band.high} cycles per revolution`
    },
    {
      label: 'Rotation',
      value: `${technique.rotation_rpm} rpm ± ${percent(technique.speed_tolerance)}`,
      known: technique.rotation_sense
    },
    { label: 'Pitch', value: `at most ${technique.max_pitch_mm} mm a revolution` },
    { label: 'Axial position', value: technique.axial_position },
    ...handFeed(technique),
    { label: 'Datum', value: technique.angle_datum },
    { label: 'Flaw', value: `depth ${flaw.depth} mm, length ${flaw.length} mm` },
    { label: 'Zones', value: technique.zones?.join(', ') ?? notStated, known: 'asked for by the procedure' },
    ...separation(technique),
    ...fit(technique),
    ...allowed(technique),
    ...secondFrequency(technique),
    { label: 'Recheck drift allowed', value: `amplitude ${percent(drift.amplitude)}, angle ${drift.angle_deg}°` },
    { label: 'Classed by phase and shape', value: classes.length === 0 ? 'nothing' : classes.join(', ') }
  ]
}

const handFeed = ({ hand_feed: feed }: OfHole): readonly Fact[] =>
  feed === undefined
    ? []
    : [
        {
          label: 'Hand feed',
          value: feed.strokes,
          known: `fastest feed at most ${feed.fastest_to_mean} times the mean between two joints or faces`
        }
      ]

const separation = ({ min_separation_deg: least }: OfHole): readonly Fact[] => [
  least === undefined
    ? { label: 'Least angle from lift-off', value: 'not stated', known: 'three times its repeatability is asked for' }
    : { label: 'Least angle from lift-off', value: `${least}°`, known: 'and three times its repeatability' }
]

function fit({ probe, oversize }: OfHole): readonly Fact[] {
  const coil: readonly Fact[] =
    probe === undefined
      ? []
      : [{ label: 'Probe fit', value: probe.fit, known: `mean coil radius ${probe.mean_coil_radius_mm} mm` }]
  if (oversize === undefined) return [...coil, ...winding(probe)]
  const { max_loss_dB: loss, shown_harmless_to_mm: harmless, source } = oversize
  const value = loss === undefined ? `harmless up to ${harmless} mm` : `loss of at most ${loss} dB`
  return [
    ...coil,
    ...winding(probe),
    { label: 'Oversize holes', value, ...(source === undefined ? {} : { known: source }) }
  ]
}

/** The winding that settings were worked out for. */
function winding(probe: OfHole['probe']): readonly Fact[] {
  if (probe?.winding === undefined) return []
  const { inner_radius_mm: inner, outer_radius_mm: outer, length_mm, turns, lift_off_mm } = probe.winding
  const value = `radii ${inner} and ${outer} mm, length ${length_mm} mm, ${turns} turns`
  return [{ label: 'Winding', value, known: `lift-off ${lift_off_mm} mm` }]
}

/** The worst in which the technique may still be used, as far as it is stated. */
function allowed({ allowed: worst, filter_corners: corners }: OfHole): readonly Fact[] {
  const { wear_mm: wear, temperature_C: warm, noise_share: noise, conductivity = [] } = worst ?? {}
  const facts: readonly (Fact | undefined)[] = [
    wear === undefined ? undefined : { label: 'Wear allowed', value: `${wear} mm more lift-off` },
    warm === undefined ? undefined : { label: 'Temperature of the part', value: `${warm.low} to ${warm.high} °C` },
    noise === undefined ? undefined : { label: 'Noise expected', value: `${percent(noise)} of the alarm notch` },
    ...conductivity.map(({ metal, low_IACS, high_IACS, source }) => ({
      ...{ label: 'Conductivity allowed', known: source },
      value: `${metal}: ${low_IACS} to ${high_IACS} %IACS`
    })),
    corners === undefined
      ? undefined
      : { label: 'Filters of the instrument', value: `${corners.high_pass_Hz} to ${corners.low_pass_Hz} Hz` }
  ]
  return facts.filter((fact) => fact !== undefined)
}

const secondFrequency = ({ second_frequency_kHz: kHz }: OfHole): readonly Fact[] =>
  kHz === undefined ? [] : [{ label: 'Second frequency', value: `${kHz} kHz`, known: 'to confirm with' }]

function equipmentBlocks(input: ReportInput): readonly Block[] {
  const { state } = input
  const { equipment } = state.opened
  if (equipment === undefined)
    return [paragraph('The record names no equipment.'), blank(['Instrument, maker and model', 'Probe', 'Gain'])]
  const known = (value: string): string =>
    value === 'unknown' ? 'known by nobody' : `entered by ${equipment.entered_by}`
  const fact = (label: string, value: string): Fact => ({ label, value, known: known(value) })
  const facts = [
    fact('Instrument, maker and model', instrumentText(input, equipment.instrument)),
    fact('Probe', equipment.probe),
    fact('Cable', equipment.cable),
    fact('Drive', equipment.drive),
    fact('Gain', equipment.gain),
    fact('Filters', equipment.filters)
  ]
  const other = state.recordings.flatMap(({ file, equipment: own = {} }) =>
    Object.entries(own).map(([name, value]) => `${file}: ${name} ${value}`)
  )
  const rest = other.length === 0 ? [] : [paragraph(`Otherwise for single recordings: ${other.join('; ')}.`)]
  return [{ block: 'facts', facts }, ...rest]
}

/** Maker and model as the register has them. */
function instrumentText({ registered }: ReportInput, serial: string): string {
  const row = registered.find(({ document: one }) => one.register === 'instrument' && one.serial === serial)?.document
  return row?.register === 'instrument' ? `${row.maker} ${row.model}, ${serial}` : serial
}

const persons = ({ state: { opened } }: ReportInput): Block =>
  tableOr(
    {
      caption: 'Persons of the job',
      columns: ['Name', 'Level', 'Certificate'].map((label) => ({ label })),
      rows: opened.people.map(({ name, level, certificate }) => cells(name, level, certificate ?? notStated))
    },
    'Persons: not stated.'
  )

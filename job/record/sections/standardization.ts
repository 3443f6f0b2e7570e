import type { NotchReading, Standardization } from '../../standardize/index.ts'
import { type Block, cells, type Fact, heading, paragraph, tableOr } from '../blocks.ts'
import { decibels, deg, mm, notStated, percent, shortHash, signed } from '../print.ts'
import type { Named, ReportInput, Section } from '../report-input.ts'

/** What the reference scans taught, and how each limit of the technique was met. */
export const standardizationSection: Section = {
  title: 'Standardization',
  blocks: (input) => {
    const { standardizations, state } = input
    if (state.opened.application === 'loop')
      return [paragraph('None: amplitudes are as recorded, no size and no proposal is given.')]
    if (standardizations.length === 0) return [paragraph('No reference scan has been standardized.')]
    return standardizations.flatMap((one) => blocksOf(one, input))
  }
}

function blocksOf({ hash, document }: Named<Standardization>, input: ReportInput): readonly Block[] {
  const { state } = input
  const entry = state.standardizations.find((one) => one.standardization === hash)
  const file = state.recordings.find(({ sha256 }) => sha256 === entry?.recording)?.file ?? 'unknown'
  return [
    heading(3, `Standardization ${shortHash(hash)}`),
    facts(document, file, input),
    tableOr(
      {
        caption: 'Notch signals',
        columns: notchColumns,
        rows: document.notches.map(notchRow)
      },
      'No notch was read.'
    ),
    ...underShims(document),
    tableOr(
      {
        caption: 'Limits of the technique',
        columns: ['Limit', 'Needed', 'Found', 'Met'].map((label) => ({ label })),
        rows: document.limits.map(({ limit, needed, found, met }) => cells(limit, needed, found, met ? 'yes' : 'NO'))
      },
      'The technique states no limit.'
    )
  ]
}

/** Of a block for welds: what each slot answers under each shim, and the absolute channel that tells the coating. */
function underShims({ coating }: Standardization): readonly Block[] {
  if (coating === undefined || coating.shims.length < 2) return []
  const [first] = coating.shims
  const columns = [
    { label: 'Shim', figures: true },
    ...(first?.slots ?? []).map(({ id }) => ({ label: `Slot ${id}`, figures: true })),
    { label: 'Scatter', figures: true },
    { label: 'Absolute channel, as recorded', figures: true }
  ]
  const rows = coating.shims.map(({ shim_mm, slots, absolute }) => [
    ...cells(`${shim_mm.toFixed(1)} mm`, ...slots.map(({ amplitude }) => percent(amplitude))),
    ...cells(percent(Math.max(0, ...slots.map(({ scatter }) => scatter)), 1)),
    ...cells(absolute === undefined ? 'none' : `${signed(absolute.level.toFixed(4))} ± ${absolute.spread.toFixed(4)}`)
  ])
  return [tableOr({ caption: 'Slots under shims', columns, rows }, '')]
}

const notchColumns = [
  { label: 'Notch' },
  { label: 'Place' },
  { label: 'Depth', figures: true },
  { label: 'Length', figures: true },
  { label: 'Amplitude', figures: true },
  { label: 'Decibel', figures: true },
  { label: 'Phase angle', figures: true },
  { label: 'Angle from lift-off', figures: true },
  { label: 'Axial extent', figures: true },
  { label: 'Off in angle', figures: true },
  { label: 'Off in depth', figures: true }
]

const notchRow = (notch: NotchReading) => [
  ...cells(notch.id, notch.place, `${notch.depth_mm} mm`, `${notch.length_mm} mm`, percent(notch.amplitude)),
  ...cells(decibels(notch.amplitude), deg(notch.phase_rad, 1), separation(notch)),
  ...cells(notch.extent_m === undefined ? 'not measured' : mm(notch.extent_m)),
  ...cells(deg(notch.angleOff_rad, 1), mm(notch.zOff_m))
]

/** A notch that stands too near to lift-off says so: it is not used for sizes. */
function separation({ fromLiftOff: is }: NotchReading): string {
  if (is === undefined) return 'not measured'
  const text = `${deg(is.angle_rad, 1)} ± ${deg(is.repeatability_rad, 1)}`
  return is.angle_rad < is.needed_rad ? `${text}, below ${deg(is.needed_rad, 1)}: not used for sizes` : text
}

/** −6 dB width of what the probe makes of a short notch along the axis: the notch is still in it. */
function footprint({ axial }: Standardization): Fact {
  const width = axial === undefined ? undefined : halfWidth(axial.profile)
  if (axial === undefined || width === undefined) return { label: 'Coil footprint', value: 'not measured' }
  const known = `along the axis at −6 dB, over notch ${axial.notch}, ${axial.length_mm} mm long, which is still in it`
  return { label: 'Coil footprint', value: mm(width), known }
}

type Profile = NonNullable<Standardization['axial']>['profile']

/** From the last to the first place where the share crosses a half, linear between revolutions. */
function halfWidth(profile: Profile): number | undefined {
  const at = profile.slice(1).flatMap((two, i) => {
    const one = profile[i]!
    if (one.share < 0.5 === two.share < 0.5) return []
    return [one.dz_m + ((0.5 - one.share) / (two.share - one.share)) * (two.dz_m - one.dz_m)]
  })
  return at.length < 2 ? undefined : Math.max(...at) - Math.min(...at)
}

const speedUnit = { '1/s': 'revolutions a second', 'mm/s': 'mm/s' } as const

function facts(document: Standardization, file: string, { state: { recordings }, standards }: ReportInput): Block {
  const { rotation, speed_window: speed, band } = document
  const known = `${rotation.basis}, ${rotation.points} points, axis ratio ${rotation.axisRatio.toFixed(1)}`
  return {
    block: 'facts',
    facts: [
      { label: 'Recording', value: file, ...forSetUp(recordings.find((one) => one.file === file)?.setUp) },
      { label: 'Reference standard', value: document.standard },
      { label: 'Certificate of the standard', value: certificateOf(document.standard, standards) },
      { label: 'Named notch', value: document.named, known: 'amplitude 100 %' },
      {
        label: 'Set-up',
        value: `${document.metal}, ${document.frequency_kHz} kHz, diameter ${document.diameter_mm} mm`
      },
      { label: 'Rotation', value: `${deg(rotation.angle_rad, 1)} ± ${deg(rotation.uncertainty_rad, 1)}`, known },
      footprint(document),
      { label: 'Speed', value: `${speed.least.toFixed(2)} to ${speed.most.toFixed(2)} ${speedUnit[speed.unit]}` },
      { label: 'Band-pass', value: `${band.low.toFixed(2)} to ${band.high.toFixed(2)} ${band.unit}` },
      {
        label: 'Noise',
        value: percent(document.noise.matched, 1),
        known: `matched output, ${document.noise.points} points`
      }
    ]
  }
}

const certificateOf = (id: string, standards: ReportInput['standards']): string =>
  standards.find(({ document }) => document.id === id)?.document.certificate ?? notStated

const forSetUp = (setUp: string | undefined): Pick<Fact, 'known'> =>
  setUp === undefined ? {} : { known: `to confirm with: ${setUp}` }

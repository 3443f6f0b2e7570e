import { type Block, cells, paragraph, tableOr } from '../blocks.ts'
import { namesOf } from '../lookups.ts'
import { moment, percent } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { Nonconformance, RecheckState, VoidedScan } from '../state.ts'

/** Whether the set-up held, and what a failed recheck takes away. */
export const rechecks: Section = {
  title: 'Rechecks',
  blocks: (input) =>
    input.state.opened.application === 'loop'
      ? [paragraph('None: there is no standardization to check.')]
      : [
          ...rules(input),
          ...verdicts(input),
          ...drifts(input),
          ...beyondNotches(input),
          ...provisional(input),
          ...unjudged(input),
          ...again(input),
          ...nonconforming(input)
        ]
}

function rules({ state }: ReportInput): readonly Block[] {
  const { interval_min, after } = state.opened.rechecks ?? {}
  const interval = interval_min === undefined ? '' : `at the latest ${interval_min} min after the last good one, `
  const changes = after === undefined ? 'every change of person, part or temperature and every drop' : after.join(', ')
  const asked = after?.length === 0 ? `${interval}and` : `${interval}after ${changes}, and`
  return [paragraph(`A recheck is asked for ${asked} at the end. A scan counts between two good ones only.`)]
}

const verdicts = ({ state }: ReportInput): readonly Block[] => [
  tableOr(
    {
      caption: 'Rechecks and what is voided',
      columns: ['Recording', 'Recheck', 'Voided'].map((label) => ({ label })),
      rows: state.rechecks.map(({ file, entry, voids }) =>
        cells(file, entry.passed ? 'passed' : 'FAILED', voids.length === 0 ? 'nothing' : voids.join(', '))
      )
    },
    'No recheck is in the record.'
  )
]

const drifts = ({ state }: ReportInput): readonly Block[] =>
  state.rechecks.length === 0
    ? []
    : [
        {
          block: 'table',
          caption: 'Notch drift since the standardization',
          columns: [
            { label: 'Recording' },
            { label: 'Notch' },
            { label: 'Amplitude', figures: true },
            { label: 'Allowed', figures: true },
            { label: 'Angle', figures: true },
            { label: 'Allowed', figures: true },
            { label: 'Met' }
          ],
          rows: state.rechecks.flatMap(driftRows)
        }
      ]

const driftRows = ({ file, entry }: RecheckState) =>
  entry.drifts.map(({ notch, amplitude, angle_deg, met }) => [
    ...cells(file, notch, signed(amplitude), allowedText(entry.allowed)),
    ...cells(angleText(angle_deg), `± ${entry.allowed.angle_deg}°`, met ? 'yes' : 'NO')
  ])

const allowedText = ({ amplitude, gain_of_sensitivity }: RecheckState['entry']['allowed']): string =>
  gain_of_sensitivity === undefined ? `± ${percent(amplitude)}` : `−${percent(amplitude)}; more is noted`

const signed = (share: number): string => {
  if (share <= -1) return 'not found'
  return `${share < 0 ? '−' : '+'}${percent(Math.abs(share), 1)}`
}

/** An angle that can not be is how a notch that was not found again is written. */
const angleText = (angle_deg: number): string => (Math.abs(angle_deg) > 180 ? 'not found' : `${angle_deg.toFixed(1)}°`)

/** Noise of the wall and order of the notches, of the same reference standard. */
const beyondNotches = ({ state }: ReportInput): readonly Block[] =>
  state.rechecks.flatMap(({ file, entry: { noise, reversed, allowed } }) => [
    ...(noise === undefined
      ? []
      : [
          paragraph(
            `${file}: noise of the wall ${signed(noise.growth)}; allowed ${allowed.noise === undefined ? 'not stated' : `+${percent(allowed.noise)}`}${noise.met ? '' : ': EXCEEDED'}.`
          )
        ]),
    ...(reversed ?? []).map(([one, other]) => paragraph(`${file}: ${one} and ${other} have CHANGED their order.`))
  ])

const again = ({ state }: ReportInput): readonly Block[] =>
  state.redo.length === 0
    ? []
    : [
        {
          block: 'table',
          caption: 'To be done again',
          columns: [{ label: 'Place' }, { label: 'Voided' }, { label: 'Why' }, { label: 'Found there', figures: true }],
          rows: state.redo.map(({ place, scans, open }) =>
            cells(place.name, filesOf(scans), whyOf(scans), open === 0 ? 'nothing open' : `${open} open`)
          )
        }
      ]

const filesOf = (scans: readonly VoidedScan[]): string => scans.map(({ file }) => file).join(', ')
const whyOf = (scans: readonly VoidedScan[]): string => [...new Set(scans.map(({ why }) => why))].join('; ')

/** Whoever has the part has to be told: the program can't. */
function nonconforming({ state }: ReportInput): readonly Block[] {
  if (state.nonconformances.length === 0) return []
  return [
    {
      ...{ block: 'caution', tone: 'warning', title: 'Left the hands, and is voided since' },
      text: 'Whoever has the component must be told. What was said of these places rested on a set-up that is not known to have held.'
    },
    {
      block: 'table',
      caption: 'Nonconformances',
      columns: ['Place', 'Left the hands', 'Voided since', 'Why', 'Examined again'].map((label) => ({ label })),
      rows: state.nonconformances.map(({ place, gone, scans, isMended }) =>
        cells(place.name, goneText(gone), filesOf(scans), whyOf(scans), isMended ? 'yes' : 'NO')
      )
    }
  ]
}

const goneText = (gone: Nonconformance['gone']): string =>
  gone.kind === 'delivered'
    ? `delivered to ${gone.to}, ${moment(gone.at)}`
    : `closed by ${gone.by.name}, ${moment(gone.at)}`

function provisional({ state }: ReportInput): readonly Block[] {
  const waiting = state.places.filter((place) => place.provisional)
  if (waiting.length === 0) return []
  const text = `Scanned and examined, but no good recheck has come after the scan: ${namesOf(waiting)}. A failed one will void them.`
  return [{ block: 'caution', tone: 'warning', title: 'Provisional until the next recheck', text }]
}

function unjudged({ state }: ReportInput): readonly Block[] {
  if (state.unjudged.length === 0) return []
  const files = state.unjudged.map(({ file }) => file).join(', ')
  return [paragraph(`Kept, but neither standardized nor judged, and so no good check: ${files}.`)]
}

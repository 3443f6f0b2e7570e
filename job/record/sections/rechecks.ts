import { type Block, cells, paragraph, tableOr } from '../blocks.ts'
import { namesOf } from '../lookups.ts'
import { percent } from '../print.ts'
import type { ReportInput, Section } from '../report-input.ts'
import type { RecheckState } from '../state.ts'

/** Whether the set-up held, and what a failed recheck takes away. */
export const rechecks: Section = {
  title: 'Rechecks',
  blocks: (input) =>
    input.state.opened.application === 'loop'
      ? [paragraph('None: there is no standardization to check.')]
      : [...verdicts(input), ...drifts(input), ...provisional(input), ...unjudged(input)]
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
    ...cells(file, notch, signed(amplitude), `± ${percent(entry.allowed.amplitude)}`),
    ...cells(angleText(angle_deg), `± ${entry.allowed.angle_deg}°`, met ? 'yes' : 'NO')
  ])

const signed = (share: number): string => {
  if (share <= -1) return 'not found'
  return `${share < 0 ? '−' : '+'}${percent(Math.abs(share), 1)}`
}

/** An angle that can not be is how a notch that was not found again is written. */
const angleText = (angle_deg: number): string => (Math.abs(angle_deg) > 180 ? 'not found' : `${angle_deg.toFixed(1)}°`)

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

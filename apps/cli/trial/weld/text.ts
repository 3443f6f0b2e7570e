import type { TrackScore } from '@trueloop/job/rehearse'
import { table } from '../../terminal/say.ts'
import type { ScoredWelds } from './score.ts'

const figure = (value: number | undefined): string => (value === undefined ? 'none' : `${value.toFixed(3)} mm`)
const list = (names: readonly string[]): string => (names.length === 0 ? '' : ` (${names.join(', ')})`)

/** What the trial says of welds. */
export const weldLines = ({ examined, score }: ScoredWelds): readonly string[] => [
  '',
  ...table([
    ['weld', 'flaws', 'indications', 'not examined, reason'],
    ...examined.map(({ outcome: { weld, flaws, calls }, notExamined }) => [
      weld,
      String(flaws.length),
      calls
        .map(({ from_mm, to_mm, depth_mm, lower_mm, upper_mm }) => {
          const depth = depth_mm?.toFixed(2) ?? (lower_mm === undefined ? `≤ ${upper_mm}` : `≥ ${lower_mm}`)
          return `${from_mm.toFixed(1)} to ${to_mm.toFixed(1)} mm, ${depth} mm deep`
        })
        .join('; '),
      notExamined.join('; ')
    ])
  ]),
  '',
  ...scoreLines(score)
]

const scoreLines = (score: TrackScore): readonly string[] => [
  `due flaws found: ${score.foundDue} of ${score.due}${list(score.missed)}`,
  `false calls: ${score.falseCalls}${list(score.called)}`,
  `ends: largest error ${figure(score.endError_mm)}`,
  `depth, by comparison with slots: mean absolute error ${figure(score.depthMae_mm)} over ${score.depthScored}; bounds: ${score.boundsTrue} of ${score.bounds} true`,
  `apparent coating: median within ${figure(score.coatingMedianError_mm)}, least and greatest within ${figure(score.coatingEndError_mm)} (this simulated set only: its absolute channel answers nothing but the coating)`
]

/** One declared number at one factor, and what the welds of the trial score with it. */
export const shiftedWeldLine = (
  {
    group,
    name,
    factor,
    value
  }: { readonly group: string; readonly name: string; readonly factor: number; readonly value: number },
  score: TrackScore
): string =>
  `weld ${group}/${name} × ${factor} = ${Number(value.toPrecision(4))}: due found ${score.foundDue} of ${score.due}, ` +
  `false calls ${score.falseCalls}, ends ${figure(score.endError_mm)}, depth ${figure(score.depthMae_mm)} over ${score.depthScored}`

import { isRefusal } from '@trueloop/ground/refusal'
import {
  type CurveResult,
  criterionText,
  type GroupResult,
  type HitMissResult,
  percent,
  type SizeBound
} from '@trueloop/job/prove'

/** A study by hits and misses in words: what is stated first, with its method; every other bound beside it. */
export function hitText({ study, data, falseCalls, groups, stated_m, advice }: HitMissResult): readonly string[] {
  const share = percent(study.share)
  const sure = percent(study.confidence)
  return [
    `${study.name}: ${study.conditions}`,
    isRefusal(stated_m)
      ? `NOT DEMONSTRATED: found ${stated_m.found}; needed ${stated_m.needed}`
      : `${study.measure} found in ${share} of cases with ${sure} confidence: ${mm(stated_m)}, bound by ${study.bound}`,
    ...(study.flaws === 'real' ? [] : [`${study.flaws} stood for real flaws: this proves no technique`]),
    isRefusal(falseCalls)
      ? `false calls: not known, ${falseCalls.found}`
      : `false calls: ${falseCalls.calls} of ${falseCalls.blanks} blanks, at most ${percent(falseCalls.upper, 1)} with ${sure} confidence`,
    ...groups.flatMap((group) => groupText(group, share)),
    `data: ${data.rows} rows, ${data.flaws} flaws, ${data.blanks} blanks, ${data.exclusions.length} left out; hash ${data.sha256}`,
    ...data.exclusions.map(({ row, why }) => `  left out: ${row}: ${why.found}`),
    ...advice.map(({ text, inspector }) => `mind: ${inspector === '' ? '' : `${inspector}: `}${text}`),
    'A smaller flaw can be found and a larger one missed. It holds for these flaws, people and conditions alone.'
  ]
}

const mm = (size_m: number): string => `${(1000 * size_m).toFixed(3)} mm`

function groupText({ inspector, hits, misses, curve }: GroupResult, share: string): readonly string[] {
  const who = inspector === '' ? 'all' : inspector
  const head = `${who}: ${hits} hits, ${misses} misses`
  if (isRefusal(curve)) return [`${head}; no curve: found ${curve.found}`]
  return [`${head}; half are found at ${mm(curve.a50_m)}, ${share} at ${mm(curve.asked_m)}`, ...boundsText(curve)]
}

const boundsText = ({ bounds }: CurveResult): readonly string[] => bounds.map((bound) => `  ${boundText(bound)}`)

function boundText({ method, criterion, size_m }: SizeBound): string {
  const size = isRefusal(size_m) ? `none: ${size_m.found}` : mm(size_m)
  return `bound by ${method} (${criterionText(criterion)}): ${size}`
}

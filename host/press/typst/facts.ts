import type { Fact } from '@trueloop/job/record'
import { widthOf } from './measure.ts'
import { bodySize, gap, inner, type Setting, type Text } from './setting.ts'

/** Labels in a column as wide as the longest of them, up to a third of the page; values in the rest. */
export function factsData({ text, show, fonts }: Setting, facts: readonly Fact[]): object {
  const longest = Math.max(0, ...facts.map(({ label }) => widthOf(fonts.regular, show(label))))
  const first = Math.max(inner / 5, Math.min(inner / 3, longest * bodySize + gap + 1))
  const [labels, values] = [(first - gap) / bodySize, (inner - first - gap) / bodySize]
  const row = ({ label, value, known }: Fact): readonly (Text | null)[] => [
    text(label, labels),
    text(value, values),
    known === undefined ? null : text(known, values)
  ]
  return { block: 'facts', widths: [first, inner - first], facts: facts.map(row) }
}

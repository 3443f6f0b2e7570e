import { type Cell, cells } from '../../../record/index.ts'
import { chanceText, figure, span } from '../../report/words.ts'
import type { ResponseChecks } from '../curve.ts'

/** What the residuals say, a row a check; a small chance speaks against the response. */
export function checkRows({ residuals, power }: ResponseChecks): readonly (readonly Cell[])[] {
  const best =
    power === undefined
      ? []
      : [cells('best power of the signal', `${figure(power.lambda)} (${span(power.lower, power.upper)})`, '')]
  if (residuals === undefined) return best
  const { scatter, normality, tails, neighbors, bend, largestStandardized, largestCook } = residuals
  return [
    cells('scatter changes with size', figure(scatter.statistic), chanceText(scatter.chance)),
    ...(normality === undefined
      ? []
      : [cells('residuals are normal', figure(normality.statistic), chanceText(normality.chance))]),
    ...(tails === undefined ? [] : [cells('tails are normal', figure(tails.adjusted), chanceText(tails.chance))]),
    cells('neighbors in size are alike', figure(neighbors), ''),
    cells('trend is bent', figure(bend.statistic), chanceText(bend.chance)),
    cells('largest residual', figure(largestStandardized), ''),
    cells('largest influence of one row', figure(largestCook), ''),
    ...best
  ]
}

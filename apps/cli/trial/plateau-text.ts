import type { Shifted } from './plateau.ts'

/** One declared number at one factor, and what the trial scores with it. */
export const shiftedLine = ({ group, name, factor, value, score }: Shifted): string =>
  `${group}/${name} × ${factor} = ${Number(value.toPrecision(4))}: found ${score.found} of ${score.flaws}, ` +
  `falsely called ${score.falselyCalledHoles} of ${score.holes}, faults caught ${score.faultsCaught} of ${score.faults}, ` +
  `depth by ratio ${mm(score.withRatio.depthMae_mm)} over ${score.withRatio.depthScored}, ` +
  `length ${mm(score.sizes.lengthMae_mm)} over ${score.sizes.lengthScored}`

/** The worst of all, and how many numbers were moved. */
export function plateauLines(all: readonly Shifted[]): readonly string[] {
  const found = all.reduce((least, { score }) => Math.min(least, score.found), Number.POSITIVE_INFINITY)
  const called = all.reduce((most, { score }) => Math.max(most, score.falselyCalledHoles), 0)
  const off = all.filter(({ score }) => score.found < LEAST_FOUND || score.falselyCalledHoles > MOST_CALLED)
  const numbers = new Set(all.map(({ group, name }) => `${group}/${name}`)).size
  return [
    '',
    `${numbers} declared numbers moved, one at a time: at least ${found} found, at most ${called} holes falsely called`,
    off.length === 0
      ? `with each, at least ${LEAST_FOUND} found and at most ${MOST_CALLED} hole falsely called`
      : `not within ${LEAST_FOUND} found and ${MOST_CALLED} falsely called: ${off.map(({ group, name, factor }) => `${group}/${name} × ${factor}`).join(', ')}`
  ]
}

const LEAST_FOUND = 11
const MOST_CALLED = 1

const mm = (value: number | undefined): string => (value === undefined ? 'none' : `${value.toFixed(3)} mm`)

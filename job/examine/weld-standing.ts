import {
  drawnOf,
  type ExamineEvent,
  type Following,
  type Pair,
  type Part,
  type PartRule,
  pairsOf,
  partOfPair,
  partsOf,
  type Step,
  type Stretch,
  stepOf
} from '../interpret/index.ts'

/** What stands out along a track. */
export interface Standing {
  /** in the order of travel, pairs of ends among them */
  readonly parts: readonly Part[]
  readonly pairs: readonly Pair[]
  readonly steps: readonly Step[]
  /** stretches that were opened and have nothing that counts */
  readonly withdrawn: readonly ExamineEvent[]
}

interface By {
  readonly numbers: Following
  /** direction of the slots under the coating met */
  readonly slots_rad: number
}

const DEG = 0.017453292519943295

export function standingIn(stretches: readonly Stretch[], rule: PartRule, by: By): Standing {
  const found = stretches.map((one) => {
    const parts = partsOf(one, rule)
    return { one, parts, step: stepFrom(one, rule, { ...by, parts }) }
  })
  const steps = found.flatMap(({ step }) => (step === undefined ? [] : [step]))
  const pairs = pairsOf(steps, by.numbers.alike)
  const long = pairs
    .map((pair) => partOfPair(pair, drawnOf(pair.from.stretch)))
    .filter(({ level }) => level >= rule.least)
  const parts = [...found.flatMap((one) => one.parts), ...long].sort((a, b) => a.from - b.from)
  const ends = pairs.map(({ from }) => from.stretch)
  return { parts, pairs, steps, withdrawn: withdrawnOf(found, ends) }
}

function stepFrom(
  stretch: Stretch,
  rule: PartRule,
  { numbers, slots_rad, parts }: By & { readonly parts: readonly Part[] }
): Step | undefined {
  const { reach, sharp, own } = numbers
  return stepOf(stretch, rule, { reach: Math.round(reach * rule.field), sharp, slots_rad, own_rad: own * DEG, parts })
}

interface Found {
  readonly one: Stretch
  readonly parts: readonly Part[]
}

const withdrawnOf = (found: readonly Found[], ends: readonly Stretch[]): readonly ExamineEvent[] =>
  found
    .filter(({ one, parts }) => parts.length === 0 && !ends.includes(one))
    .map(({ one }) => ({
      kind: 'withdrawn' as const,
      id: one.id,
      reason: 'does not stand out of its surroundings by the threshold that the noise asks for'
    }))

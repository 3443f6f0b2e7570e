import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import { nearest } from '../nearest.ts'
import { shopChain } from '../registers/shop-chain.ts'
import { pathText, type Step } from '../where.ts'

/** Names that stand twice, and names that nothing bears. */

export const doubles = (names: readonly string[], stepsOf: (index: number) => readonly Step[]): readonly Refusal[] => {
  const first = new Map<string, number>()
  return names.flatMap((name, index) => {
    const before = first.get(name)
    if (before === undefined) first.set(name, index)
    return before === undefined ? [] : [double(name, stepsOf(before), stepsOf(index))]
  })
}

const double = (name: string, before: readonly Step[], here: readonly Step[]): Refusal =>
  refuse('plan/double-name', {
    found: `the name "${name}" again`,
    needed: `a name of its own; ${pathText(before)} has this one`,
    remedy: 'rename one of the two or remove it',
    where: { path: pathText(here) }
  })

export interface Lookup {
  readonly name: string
  readonly known: ReadonlySet<string>
  readonly code:
    | 'plan/unknown-person'
    | 'plan/unknown-notch'
    | 'plan/unknown-hole'
    | 'plan/unknown-track'
    | 'plan/unknown-place'
  readonly what: string
  readonly steps: readonly Step[]
}

export function unknownName({ name, known, code, what, steps }: Lookup): readonly Refusal[] {
  if (known.has(name)) return []
  const all = [...known]
  const meant = nearest(name, all)
  const list = all.length > 12 ? [...all.slice(0, 12), `… (${all.length})`] : all
  return [
    refuse(code, {
      found: `"${name}"`,
      needed: `a name that stands under ${what}: ${list.join(', ')}`,
      remedy: meant === undefined ? `correct the name or add it to ${what}` : `did you mean "${meant}"?`,
      where: { path: pathText(steps) }
    })
  ]
}

/** The name under which the shop's own record lies is no job's. */
export const reservedName = (name: string, steps: readonly Step[]): readonly Refusal[] =>
  name !== shopChain
    ? []
    : [
        refuse('plan/bad-value', {
          found: `the number "${name}", under which the record of the shop itself is kept`,
          needed: "a number that is a job's own",
          remedy: 'give the job another number',
          where: { path: pathText(steps) }
        })
      ]

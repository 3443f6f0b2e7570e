import type { Result } from '@trueloop/ground/refusal'
import { isRefusal } from '@trueloop/ground/refusal'
import type { Block } from '../../record/index.ts'
import { cells, list, tableOr } from '../../record/index.ts'
import type { Code } from '../codes.ts'
import type { FalseCalls } from '../false-calls.ts'
import type { Exclusion } from '../rows.ts'

/** What every study's report says in the same words. */

export const mm = (size_m: number, digits = 2): string => `${(1000 * size_m).toFixed(digits)} mm`
/** As it was stated where no digits are asked: 97.5 % is not 98 %. */
export const percent = (share: number, digits?: number): string =>
  `${digits === undefined ? Number((100 * share).toPrecision(8)) : (100 * share).toFixed(digits)} %`
/** Four significant digits: more is seldom known, and the whole figure stands in the result. */
export const figure = (value: number, digits = 4): string => `${Number(value.toPrecision(digits))}`
/** A chance of a test statistic; far below what anybody decides by it is only said to be small. */
export const chanceText = (chance: number): string => (chance < 0.001 ? 'below 0.001' : chance.toFixed(3))
export const span = (lower: number, upper: number): string => `${figure(lower)} to ${figure(upper)}`

interface Asked {
  readonly measure: 'depth' | 'length'
  readonly share: number
  readonly confidence: number
  readonly bound: string
}

/** The size that a study states, or why it states none. */
export function statement({ measure, share, confidence, bound }: Asked, stated_m: Result<number, Code>): Block {
  if (isRefusal(stated_m))
    return {
      ...{ block: 'caution', tone: 'warning', title: 'Not demonstrated' },
      text: `No size can be stated: found ${stated_m.found}; needed ${stated_m.needed}. What to do: ${stated_m.remedy}.`
    }
  return {
    ...{ block: 'caution', tone: 'note' },
    title: `${measure === 'depth' ? 'Depth' : 'Length'} of ${mm(stated_m)}: found in ${percent(share)} of cases with ${percent(confidence)} confidence`,
    text: `Bound by ${bound}, as the study states; that is to be fixed before anybody looks. Other methods give other bounds: they stand below.`
  }
}

/** Notches and simulation prove no technique. */
export const notReal = ({ flaws }: { readonly flaws: 'real' | 'notches' | 'simulated' }): readonly Block[] =>
  flaws === 'real'
    ? []
    : [
        {
          ...{ block: 'caution', tone: 'stop', title: 'Proves no technique' },
          text: `${flaws === 'notches' ? 'Notches' : 'Simulated flaws'} stood for real ones.`
        }
      ]

export function falseCallBlock(falseCalls: Result<FalseCalls, Code>, confidence: number): Block {
  if (isRefusal(falseCalls))
    return {
      ...{ block: 'caution', tone: 'warning', title: 'False calls are not known' },
      text: `Found ${falseCalls.found}; needed ${falseCalls.needed}.`
    }
  const { calls, blanks, rate, upper } = falseCalls
  return {
    block: 'facts',
    facts: [
      { label: 'Called', value: `${calls} of ${blanks} blanks`, known: percent(rate, 1) },
      { label: 'At most', value: percent(upper, 1), known: `with ${percent(confidence)} confidence, exact` }
    ]
  }
}

export const exclusionTable = (exclusions: readonly Exclusion[]): Block =>
  tableOr(
    {
      caption: 'Rows left out',
      columns: [{ label: 'Row' }, { label: 'Found' }, { label: 'What to do' }],
      rows: exclusions.map(({ row, why }) => cells(row, why.found, why.remedy))
    },
    'None.'
  )

/** Where figures come from: with the rows they can be worked out again. */
export const originFacts = ({ sha256, method, program }: Origin) => [
  { label: 'Data', value: sha256, known: 'hash of the rows as given' },
  { label: 'Method', value: `${method}`, known: program }
]

interface Origin {
  readonly sha256: string
  readonly method: number
  readonly program: string
}

/** What holds for every study, after what holds for this one. */
export const limits = (own: readonly string[]): Block =>
  list([
    ...own,
    'A person attaches it to a technique, or does not. No statement on airworthiness or fitness for service is made.'
  ])

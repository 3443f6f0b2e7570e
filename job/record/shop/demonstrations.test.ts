/** Oracle: the rules of a demonstration as they are written (one plan before the trial, one verdict), on entries made by hand. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { canonical } from '../canonical.ts'
import type { EntryRow } from '../chain.ts'
import { type Invented, invent, type ShopDraft, sha256, shopEntry, shopWitness } from '../testing/index.ts'
import { appendShop, demonstrationsIn, shopChainOf, verifyShop } from './index.ts'

const level3 = invent('C. Level', 'III')
const level2 = invent('B. Sample', 'II')
const known = shopWitness([level3, level2], [])

const plans = ['first', 'second'].map((name) => ({ kind: 'demonstration-plan', name, trials: 29 }))
const planHash = (at: number) => sha256(canonical(plans[at]))
const outcome = (at: number, verdict: string) => ({ kind: 'demonstration-outcome', plan: planHash(at), verdict })
const documents = [...plans, outcome(0, 'demonstrated'), outcome(1, 'not demonstrated')]
const texts = new Map(documents.map((one) => [sha256(canonical(one)), canonical(one)]))
const witness = { ...known, document: (hash: string) => texts.get(hash) ?? known.document(hash) }

const planned = (at: number, over: object = {}): ShopDraft => ({
  ...{ kind: 'demonstration-planned', name: plans[at]!.name, document: planHash(at) },
  ...over
})
const judged = (at: number, verdict: 'demonstrated' | 'not demonstrated', over: object = {}): ShopDraft => ({
  ...{ kind: 'demonstration-judged', name: plans[at]!.name, plan: planHash(at), verdict },
  document: sha256(canonical(outcome(at, verdict))),
  ...over
})

const adding = (who: Invented, draft: ShopDraft, rows: readonly EntryRow[]) =>
  appendShop(shopChainOf(rows, witness), { expectedSeq: rows.length, entries: [shopEntry(who, draft, rows)] }, sha256)
function after(rows: readonly EntryRow[], who: Invented, draft: ShopDraft): readonly EntryRow[] {
  const done = adding(who, draft, rows)
  if (isRefusal(done)) throw new Error(`${done.code}: ${done.found}`)
  return [...rows, ...done.fresh]
}
const codeOf = (who: Invented, draft: ShopDraft, rows: readonly EntryRow[]) => {
  const done = adding(who, draft, rows)
  return isRefusal(done) ? done.code : 'no refusal'
}

const opened = after([], level3, { kind: 'shop-opened', name: level3.row.name, document: level3.document })
const begun = after(opened, level3, {
  ...{ kind: 'registered', what: 'person', name: level2.row.name, document: level2.document }
})
const one = after(begun, level3, planned(0))

describe('a demonstration in the record of the shop', () => {
  it('is planned, then judged, and both are verified', () => {
    const rows = after(one, level3, judged(0, 'demonstrated'))
    expect(demonstrationsIn(rows).map(({ kind, name }) => `${kind} ${name}`)).toEqual([
      'demonstration-planned first',
      'demonstration-judged first'
    ])
    expect(verifyShop({ rows, hash: sha256, witness })).toEqual([])
  })

  it.each<[string, () => string, string]>([
    ['a plan by Level II', () => codeOf(level2, planned(0), begun), 'record/no-right'],
    ['a plan of another name', () => codeOf(level3, planned(0, { name: 'other' }), begun), 'shop/bad-document'],
    ['no plan', () => codeOf(level3, planned(0, { document: level2.document }), begun), 'shop/bad-document'],
    ['the same plan again', () => codeOf(level3, planned(0), one), 'shop/planned-twice'],
    ['a verdict without a plan', () => codeOf(level3, judged(1, 'not demonstrated'), one), 'shop/not-planned'],
    [
      'a verdict that its document does not give',
      () => codeOf(level3, judged(0, 'demonstrated', { verdict: 'not demonstrated' }), one),
      'shop/bad-document'
    ],
    [
      'a second verdict',
      () => codeOf(level3, judged(0, 'demonstrated'), after(one, level3, judged(0, 'demonstrated'))),
      'shop/judged-twice'
    ]
  ])('refused: %s', (_, made, code) => expect(made()).toBe(code))

  it('whose verdict was put before its plan is no sound record', () => {
    const rows = after(one, level3, judged(0, 'demonstrated'))
    const swapped = [...rows.slice(0, -2), rows.at(-1)!, rows.at(-2)!]
    expect(verifyShop({ rows: swapped, hash: sha256, witness })).not.toEqual([])
  })
})

/** Oracle: the rules as they are stated, against causes of known scores made here. */
import { describe, expect, it } from 'vitest'
import { type Cause, cause } from './causes/index.ts'
import type { Features } from './features.ts'
import { JUDGING, judge } from './judge.ts'

const features = {} as Features

const made = (name: string, score: number, more: Partial<Cause> = {}): Cause =>
  cause({
    name,
    alsoCalled: [`${name}, otherwise`],
    class: 'nonrelevant',
    looks: 'It looks like that.',
    source: 'common practice, no source',
    numbers: {},
    weigh: () => ({ score, reasons: [{ what: 'x', sentence: `${name}: 1.`, speaks: 'for' }] }),
    ...more
  })
const crack = (score: number) => made('crack', score, { class: 'relevant' })
const damage = (name: string, score: number, more: Partial<Cause> = {}) =>
  made(name, score, { class: 'damage, not a crack', ...more })

const judged = (among: readonly Cause[], mayClass: readonly string[]) => {
  const { class: is, cause: name, runnerUp, crack: self, evidence } = judge(features, { among, mayClass })
  return { is, name, runnerUp: runnerUp.name, self: self.score, ruling: evidence[0]!.sentence }
}

describe('judge', () => {
  it('takes a clear cause that the technique lists, by any of its names', () => {
    for (const listed of ['a', 'A, otherwise', ' a '])
      expect(judged([crack(0.1), made('a', 0.9)], [listed])).toMatchObject({ is: 'nonrelevant', name: 'a', self: 0.1 })
  })

  it('tells one that the technique does not list, and takes nothing by it', () => {
    const told = judged([crack(0.1), made('a', 0.9)], ['b'])
    expect(told).toMatchObject({ is: 'undecided', name: 'a' })
    expect(told.ruling).toContain('technique')
  })

  it('lets a listed cause of the same class stand for a better one that is not listed', () => {
    expect(judged([crack(0.1), made('a', 0.9), made('b', 0.8)], ['b'])).toMatchObject({ is: 'nonrelevant', name: 'b' })
    expect(judged([crack(0.1), made('a', 0.9), made('b', 0.45)], ['b'])).toMatchObject({ is: 'undecided', name: 'a' })
    expect(judged([crack(0.1), damage('a', 0.9), made('b', 0.8)], ['b'])).toMatchObject({ is: 'undecided', name: 'a' })
  })

  it('is undecided between causes of different class that are near each other', () => {
    const both = ['a', 'b']
    const near = judged([crack(0), made('a', 0.9), damage('b', 0.75)], both)
    expect(near).toMatchObject({ is: 'undecided', name: 'a', runnerUp: 'b' })
    expect(judged([crack(0), made('a', 0.9), damage('b', 0.65)], both).is).toBe('nonrelevant')
    expect(judged([crack(0), damage('a', 0.9), damage('b', 0.9)], both).is).toBe('damage, not a crack')
  })

  it('is undecided where a crack is not clearly beaten, whatever the other one', () => {
    expect(judged([crack(0.6), made('a', 0.7)], ['a']).is).toBe('undecided')
    expect(judged([crack(0.6), made('a', 1)], ['a']).is).toBe('nonrelevant')
    expect(judged([crack(0.6), made('a', 0.3)], ['a'])).toMatchObject({ is: 'undecided', name: 'crack' })
  })

  it('takes what is like a crack in everything for relevant, whatever else it is like', () => {
    for (const score of [0.65, 0.8, 1])
      expect(judged([crack(score), made('a', 1), damage('b', 1)], ['a', 'b'])).toMatchObject({
        is: 'relevant',
        name: 'crack'
      })
  })

  it('takes nothing by a cause that more than a recording must tell; beside a crack that is undecided where listed', () => {
    const twin = made('a', 1, { never: 'the drawing tells it' })
    expect(judged([crack(0), twin], ['a'])).toMatchObject({ is: 'undecided', name: 'a' })
    expect(judged([crack(1), twin], ['a'])).toMatchObject({ is: 'undecided', name: 'crack' })
    expect(judged([crack(1), twin], [])).toMatchObject({ is: 'relevant', name: 'crack' })
    expect(judged([crack(1), twin], ['a']).ruling).toContain('the drawing tells it')
  })

  it('is undecided where nothing fits', () =>
    expect(judged([crack(0.2), made('a', 0.49)], ['a'])).toMatchObject({ is: 'undecided', name: 'a' }))

  it('takes nothing for what may be the side lobe of something stronger beside it, but a crack', () => {
    const beside = { opposite: 1.5 } as Features
    const rule = (score: number) => ({ among: [crack(score), made('a', 1)], mayClass: ['a'] })
    expect(judge(beside, rule(0)).class).toBe('undecided')
    expect(judge(beside, rule(0)).evidence[0]!.sentence).toContain('side lobe')
    expect(judge(beside, rule(0.9)).class).toBe('relevant')
    expect(judge({ opposite: 1.2 } as Features, rule(0)).class).toBe('nonrelevant')
  })

  it('weighs with moved numbers where a plateau moves them', () => {
    const moving = { margin: { value: 0.9, unit: 'score', reason: 'a test' } }
    const one = made('a', 0, {
      numbers: moving,
      weigh: (_, values) => ({ score: values.margin ?? 0, reasons: [] })
    })
    const rule = { among: [crack(0), one], mayClass: ['a'] }
    expect(judge(features, rule).score).toBe(0.9)
    expect(judge(features, { ...rule, moved: { a: { margin: 0.55 } } }).score).toBe(0.55)
    expect(judge(features, { ...rule, moved: { judge: { clear: 0.95 } } }).class).toBe('undecided')
    expect(JUDGING.clear.value).toBe(0.5)
  })

  it('gives the ruling first, then what speaks for and against the cause', () =>
    expect(judge(features, { among: [crack(0), made('a', 1)], mayClass: ['a'] }).evidence).toEqual([
      { what: 'ruling', sentence: 'It is taken for a (nonrelevant): it fits by 1.00.', speaks: 'neither' },
      { what: 'x', sentence: 'a: 1.', speaks: 'for' }
    ]))
})

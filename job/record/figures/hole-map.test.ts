import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Block } from '../blocks.ts'
import { reportBlocks } from '../report.ts'
import type { ReportInput } from '../report-input.ts'
import { holeMapSection } from '../sections/hole-map.ts'
import { summary } from '../sections/summary.ts'
import type { PlaceState, PlaceStateName } from '../state.ts'
import { inventedReport, plain } from '../testing/index.ts'
import { holeMap } from './hole-map.ts'
import { mapWords } from './hole-mark.ts'

const whole = inventedReport()
const names = (Object.keys(mapWords) as PlaceStateName[]).filter((name) =>
  whole.state.places.some(({ state }) => state === name)
)
/** One place of the invented job in each state: each state that it has. */
const samples = names.map((name) => whole.state.places.find(({ state }) => state === name)!)

const place = (at: number, of: PlaceState, where?: { x_mm: number; y_mm: number }): PlaceState => ({
  ...of,
  place: { ...of.place, name: `H${at}`, ...(where && { at: where }) }
})

const inputOf = (places: readonly PlaceState[]): ReportInput => ({ ...whole, state: { ...whole.state, places } })

const textsIn = (svg: string): readonly string[] =>
  [...svg.matchAll(/<text [^>]*>([^<]*)</g)].map(([, text]) => text ?? '')

/** Rows of a table as numbers by name. */
function numbersOf(blocks: readonly Block[], caption: string): Readonly<Record<string, number>> {
  const table = blocks.find((block) => block.block === 'table' && block.caption === caption)
  const rows = table?.block === 'table' ? table.rows : []
  return Object.fromEntries(rows.map((row) => [row[0]!.text, Number(row.at(-1)!.text)]))
}

/** Each mark is drawn with its word beside it, so that words count the marks. */
function counted(blocks: readonly Block[]): Readonly<Record<string, number>> {
  const texts = blocks.flatMap((block) => (block.block === 'figure' ? textsIn(block.svg) : []))
  const counts = names.map((name) => [name, texts.filter((text) => text === mapWords[name]).length] as const)
  return Object.fromEntries(counts.filter(([, count]) => count > 0))
}

describe('the hole map', () => {
  it('has the counts of its legend and of the table of states, whatever the states are', () =>
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 1, maxLength: 400 }), (states) => {
        const input = inputOf(states.map((state, at) => place(at, samples[state]!)))
        const blocks = holeMapSection.blocks(input)
        const legend = numbersOf(blocks, 'Marks of the map')
        expect(legend).toEqual(numbersOf(summary.blocks(input), 'States'))
        expect(counted(blocks)).toEqual(legend)
        expect(Object.values(legend).reduce((sum, one) => sum + one, 0)).toBe(states.length)
      }),
      { numRuns: 30 }
    ))

  it('has each hole once, by its name', () => {
    const places = Array.from({ length: 345 }, (_, at) => place(at, samples[at % 5]!))
    const parts = holeMap(places)
    expect(parts.map((part) => part.places.length)).toEqual([153, 153, 39])
    const texts = parts.flatMap(({ svg }) => textsIn(svg))
    for (const { place: one } of places) expect(texts.filter((text) => text === one.name)).toHaveLength(1)
  })

  it('says what the state alone would hide: in part, provisional', () => {
    const part = whole.state.places.find(({ place: one }) => one.name === 'W-3')!
    expect(textsIn(holeMap([part])[0]!.svg)).toEqual(['W-3', 'not examined', 'in part'])
    const [waiting] = whole.state.places.filter(({ provisional }) => provisional)
    expect(textsIn(holeMap([waiting!])[0]!.svg).at(-1)).toContain('provisional')
  })

  it('keeps the end of a name that is too long, where names of a row differ', () =>
    expect(
      textsIn(
        holeMap([{ ...samples[0]!, place: { ...samples[0]!.place, name: 'left-wing-lower-panel-W-14' } }])[0]!.svg
      )[0]
    ).toMatch(/^….*W-14$/))

  it('breaks two thousand holes into drawings that can be read', () => {
    const parts = holeMap(Array.from({ length: 2000 }, (_, at) => place(at, samples[at % 5]!)))
    expect(parts).toHaveLength(14)
    for (const { svg } of parts) expect(Number(/height="([\d.]+)"/.exec(svg)?.[1])).toBeLessThanOrEqual(960)
  })
})

describe('the hole map on the drawing of the component', () => {
  /** Rows of rivets along a spar: 25 mm apart, two rows 40 mm apart. */
  const rows = (count: number) =>
    Array.from({ length: count }, (_, at) =>
      place(at, samples[at % 5]!, { x_mm: 25 * Math.floor(at / 2), y_mm: 40 * (at % 2) })
    )

  it('has each hole once, in parts of what can be read', () => {
    const all = rows(700)
    const parts = holeMap(all)
    expect(parts.length).toBeGreaterThan(4)
    const drawn = parts.flatMap((part) => part.places.map(({ place: one }) => one.name))
    expect([...drawn].sort()).toEqual(all.map(({ place: one }) => one.name).sort())
    for (const part of parts) expect(part.drawn).toBe('at their places on the drawing')
  })

  it('draws them where they lie: equal scales, x to the right, y up', () => {
    const three = [
      place(1, samples[0]!, { x_mm: 0, y_mm: 0 }),
      place(2, samples[0]!, { x_mm: 200, y_mm: 0 }),
      place(3, samples[0]!, { x_mm: 0, y_mm: 100 })
    ]
    const [part] = holeMap(three)
    const at = (name: string) => {
      const [, x, y] = new RegExp(`<text x="([\\d.]+)" y="([\\d.]+)"[^>]*>${name}<`).exec(part!.svg)!
      return { x: Number(x), y: Number(y) }
    }
    const right = at('H2').x - at('H1').x
    expect(at('H2').y).toBe(at('H1').y)
    expect(at('H1').y - at('H3').y).toBeCloseTo(right / 2, 1)
    expect(right).toBeGreaterThan(300)
  })

  it('hides no hole behind another: what would lie over one is drawn in the list, like a hole without a place', () => {
    const same = [
      place(1, samples[0]!, { x_mm: 5, y_mm: 5 }),
      place(2, samples[1]!, { x_mm: 5, y_mm: 5 }),
      place(3, samples[2]!)
    ]
    const parts = holeMap(same)
    expect(parts.map(({ drawn, places }) => [drawn, places.map(({ place: one }) => one.name)])).toEqual([
      ['at their places on the drawing', ['H1']],
      ['in the order of the list', ['H2', 'H3']]
    ])
  })

  it('writes words at every hole that is not done with, however near they lie', () => {
    const dense = Array.from({ length: 140 }, (_, at) =>
      place(at, samples[at % 5]!, { x_mm: (at % 14) * 10, y_mm: Math.floor(at / 14) * 10 })
    )
    const texts = holeMap(dense).flatMap(({ svg }) => textsIn(svg))
    for (const name of names.filter((one) => one !== 'examined, no relevant indication'))
      expect(texts.filter((text) => text === mapWords[name])).toHaveLength(28)
  })
})

describe('the section', () => {
  it('is not there for a weld, whose tracks have a map of their own; a loop has neither', () => {
    const state = { ...whole.state, opened: { ...whole.state.opened, application: 'weld' as const } }
    const weld = plain(reportBlocks({ ...whole, state }))
    expect([weld.includes('Hole map'), weld.includes('Weld map')]).toEqual([false, true])
    const loop = { ...state, opened: { ...state.opened, application: 'loop' as const } }
    expect(plain(reportBlocks({ ...whole, state: loop }))).toContain('None: the places of this job are recordings.')
  })
})

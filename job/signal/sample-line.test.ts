/** Oracles: the despike kernel (which has its plain twin) on each block's own copy; one watch for clipping over all. */
import { randomFrom } from '@trueloop/ground/numerics'
import { describe, expect, it } from 'vitest'
import { ClipWatch } from './clipping.ts'
import { markSpikes, spikeMargin } from './despike.kernel.ts'
import { DropLog } from './drops.ts'
import { Pending } from './pending.ts'
import { type Fault, SampleLine, spikeRule } from './sample-line.ts'
import { segmentsOf } from './testing/recording.ts'

const RATE = 25_600
const BLOCK = 256
const rule = spikeRule(RATE)
const margin = spikeMargin(rule)

/** Quiet noise, louder noise, a dead stretch, steps of a converter, a signal that clips; spikes and holes all along. */
function recording() {
  const random = randomFrom('sample line')
  const size = (i: number) => [0.01, 0.2, 0, 0.05][Math.floor(i / 2000) % 4]!
  const raw = (i: number) => Math.sin(0.01 * i) + size(i) * random.normal()
  const stepped = (v: number) => Math.round(v * 200) / 200
  const x = Float64Array.from({ length: 20_000 }, (_, i) => Math.min(1, stepped(raw(i))))
  const y = Float64Array.from({ length: 20_000 }, (_, i) => raw(i))
  for (let i = 313; i < x.length; i += 997) x[i]! -= 8 + (i % 7)
  for (let i = 700; i < x.length; i += 3011) y.fill(Number.NaN, i, i + 1 + (i % 5))
  return { x, y }
}

function plain({ x, y }: ReturnType<typeof recording>): readonly string[] {
  const found: string[] = []
  for (let from = 0; from < x.length; from += BLOCK) {
    const to = Math.min(x.length, from + BLOCK)
    const [a, b] = [Math.max(0, from - margin), Math.min(x.length, to + margin)]
    const ok = new Uint8Array(b - a)
    markSpikes(x.slice(a, b), y.slice(a, b), ok, rule)
    for (let i = from; i < to; i++) if (ok[i - a] !== 1) found.push(`${i} ${ok[i - a] === 2 ? 'spike' : 'unreadable'}`)
  }
  return found
}

const each = (faults: readonly Fault[]) =>
  faults.flatMap(({ from, to, kind }) => Array.from({ length: to - from }, (_, k) => `${from + k} ${kind}`))

function lineOf(columns: ReturnType<typeof recording>, lengths: readonly number[], keep = true) {
  const drops = new DropLog()
  const blocks: (readonly [number, number])[] = []
  const line: SampleLine = new SampleLine(RATE, drops, (from, to) => {
    blocks.push([from, to])
    if (!keep) line.forget(from)
  })
  for (const segment of segmentsOf(columns, lengths)) line.take(segment)
  line.end()
  return { line, blocks, drops: drops.entries() }
}

describe('the line of samples', () => {
  const columns = recording()
  const { line, blocks, drops } = lineOf(columns, [3000])

  it('finds the faults that each block has by itself', () => {
    expect(each(line.faults)).toEqual(plain(columns))
    expect(new Set(line.faults.map(({ kind }) => kind)).size).toBe(2)
    expect(line.faults.length).toBeGreaterThan(20)
  })

  it('hands on blocks whose borders are fixed', () => {
    expect(blocks.map(([from]) => from)).toEqual(blocks.map((_, k) => k * BLOCK))
    expect(blocks.at(-1)![1]).toBe(columns.x.length)
  })

  it('counts the same clipped samples as a watch over all of them', () => {
    const watch = new ClipWatch()
    watch.take(columns.x, columns.y)
    expect(line.clipping.samples()).toBe(watch.samples())
    expect(watch.samples()).toBeGreaterThan(100)
  })

  it.each([[1], [777], [5000, 3]])('cut into segments of %i … it finds and logs the same', (...lengths) => {
    const other = lineOf(columns, lengths)
    expect(other.line.faults).toEqual(line.faults)
    expect(other.blocks).toEqual(blocks)
    expect(other.drops).toEqual(drops)
    expect(other.line.clipping.samples()).toBe(line.clipping.samples())
  })

  it('forgets on demand only what no later block looks at', () => {
    const { line: short, drops: logged } = lineOf(columns, [777], false)
    expect(logged).toEqual(drops)
    expect(short.pending.x.length).toBe(new Pending().x.length)
    expect(short.faults.length).toBeLessThan(line.faults.length)
  })
})

import type { Result } from '@trueloop/ground/refusal'
import { refuse } from './codes.ts'
import type { DropLog } from './drops.ts'
import { type Block, copyOf } from './timeline.ts'

/**
 * How the place of a sample along the track is known: by an encoder; by the time at a stated speed; or by marks that were
 * set at known places, a mark being a rise of the index channel through `level`.
 */
export type PlaceBasis =
  | { readonly by: 'encoder' }
  | { readonly by: 'speed'; readonly speed_m_s: number }
  | { readonly by: 'marks'; readonly at_m: readonly number[]; readonly level: number }

/** A block whose position column is there. */
export type Placed = Block & { readonly position: Float64Array }

const MOST_HELD = 4_000_000

/** Gives every block its position column, m. Refuses `signal/no-position`, `signal/marks-differ`, `signal/gap-too-long`. */
export class TrackPlaces {
  readonly #basis: PlaceBasis
  readonly #rate_Hz: number
  readonly #drops: DropLog
  #held: Block[] = []
  #samples = 0
  #marks = 0
  #mark = 0
  #above = true

  constructor(basis: PlaceBasis, rate_Hz: number, drops: DropLog) {
    this.#basis = basis
    this.#rate_Hz = rate_Hz
    this.#drops = drops
  }

  take(block: Block): Result<readonly Placed[]> {
    const basis = this.#basis
    if (basis.by === 'encoder') {
      const { position } = block
      return position === undefined ? noPosition('no position column') : [{ ...block, position }]
    }
    if (basis.by === 'speed') {
      const perSample = basis.speed_m_s / this.#rate_Hz
      return [{ ...block, position: block.x.map((_, i) => (block.first + i) * perSample) }]
    }
    return this.#byMarks(block, basis)
  }

  /** At the end: what lies behind the last mark has no place. */
  end(): Result<void> {
    const basis = this.#basis
    if (basis.by !== 'marks') return
    this.#leaveOut(this.#held)
    this.#held = []
    if (this.#marks === basis.at_m.length) return
    return marksDiffer(`${this.#marks} marks`, basis.at_m.length)
  }

  #byMarks(block: Block, { at_m, level }: Extract<PlaceBasis, { by: 'marks' }>): Result<readonly Placed[]> {
    const { index } = block
    if (index === undefined) return noPosition('no index channel for the marks')
    const out: Placed[] = []
    let from = 0
    for (let i = 0; i < index.length; i++) {
      const isAbove = index[i]! >= level
      const isMark = isAbove && !this.#above
      this.#above = isAbove
      if (!isMark) continue
      this.#hold(partOf(block, from, i))
      const placed = this.#reach(block.first + i, at_m)
      if ('code' in placed) return placed
      out.push(...placed)
      from = i
    }
    this.#hold(partOf(block, from, index.length))
    if (this.#samples > MOST_HELD) return tooFar()
    return out
  }

  #hold(part: Block): void {
    if (part.x.length === 0) return
    this.#samples += part.x.length
    this.#held.push(copyOf(part))
  }

  /** A mark at this sample: what was held since the one before lies evenly between both. */
  #reach(sample: number, at_m: readonly number[]): Result<readonly Placed[]> {
    const held = this.#held
    this.#held = []
    this.#samples = 0
    this.#marks++
    const [a, b] = [at_m[this.#marks - 2], at_m[this.#marks - 1]]
    if (b === undefined) return marksDiffer(`a mark number ${this.#marks}`, at_m.length)
    const before = this.#mark
    this.#mark = sample
    if (a === undefined) {
      this.#leaveOut(held)
      return []
    }
    const perSample = (b - a) / (sample - before)
    return held.map((part) => ({
      ...part,
      position: part.x.map((_, i) => a + (part.first + i - before) * perSample)
    }))
  }

  #leaveOut(parts: readonly Block[]): void {
    for (const { first, x } of parts) {
      const to = first + x.length
      this.#drops.add({ from: first, to, unit: 'sample', samples: x.length, reason: 'not between two marks' })
    }
  }
}

function partOf(block: Block, from: number, to: number): Block {
  const columns = Object.entries(block).filter(([name]) => name !== 'first') as [string, Float64Array][]
  const cut = Object.fromEntries(columns.map(([name, column]) => [name, column.subarray(from, to)]))
  return { ...block, ...cut, first: block.first + from }
}

export const noPosition = (found: string) =>
  refuse('signal/no-position', {
    found,
    needed: 'a position that advances along the track',
    remedy: 'name the position column in the job sheet and check the encoder, or state a speed or marks'
  })

const marksDiffer = (found: string, stated: number) =>
  refuse('signal/marks-differ', {
    found,
    needed: `the ${stated} marks whose places are stated`,
    remedy: 'check level and places of the marks, or run again with an encoder'
  })

const tooFar = () =>
  refuse('signal/gap-too-long', {
    found: `more than ${MOST_HELD} samples without a mark`,
    needed: 'a mark before that',
    remedy: 'set marks closer to each other, or run with an encoder'
  })

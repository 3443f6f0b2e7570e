import type { LinePoints } from '../line.ts'

/** Readings over the distinct x in rising order, as they are and as they must be where y never falls. */
export interface Isotonic {
  readonly x: Float64Array
  /** (weighted) mean of the readings there */
  readonly means: Float64Array
  /** the nearest never falling values, by least squares */
  readonly values: Float64Array
}

interface Block {
  value: number
  weight: number
  places: number
}

/**
 * Isotonic regression by pooling adjacent violators: the never falling values with the least (weighted) sum of squares
 * to the readings. Readings of equal x are taken together first. Throws RangeError for columns of unlike length.
 * source: barlow-1972
 */
export function isotonic({ x, y, weights }: LinePoints): Isotonic {
  if (x.length !== y.length || (weights !== undefined && weights.length !== x.length))
    throw new RangeError('the columns of a regression must have one length')
  const order = Array.from(x, (_, i) => i).sort((a, b) => x[a]! - x[b]!)
  const at: number[] = []
  const single: Block[] = []
  for (const i of order) {
    const one = { value: y[i]!, weight: weights?.[i] ?? 1, places: 1 }
    if (at.at(-1) === x[i]) single.push({ ...joined(single.pop()!, one), places: 1 })
    else {
      at.push(x[i]!)
      single.push(one)
    }
  }
  const values = pooled(single).flatMap(({ value, places }) => Array<number>(places).fill(value))
  return {
    x: Float64Array.from(at),
    means: Float64Array.from(single, ({ value }) => value),
    values: Float64Array.from(values)
  }
}

function pooled(single: readonly Block[]): readonly Block[] {
  const blocks: Block[] = []
  for (const one of single) {
    let last = one
    while (blocks.length > 0 && blocks.at(-1)!.value > last.value) last = joined(blocks.pop()!, last)
    blocks.push(last)
  }
  return blocks
}

function joined(one: Block, other: Block): Block {
  const weight = one.weight + other.weight
  const value = (one.value * one.weight + other.value * other.weight) / weight
  return { value, weight, places: one.places + other.places }
}

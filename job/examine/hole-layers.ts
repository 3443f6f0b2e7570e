import type { Interpreted } from '../interpret/index.ts'

/** One entry a layer. */

type Row = Interpreted['ridge']['rows'][number]

export interface Layering {
  /** layer of a pass that a ruler point lies in */
  readonly cell: (point: number) => number
  readonly perWidth: number
  /** distance of a notch's lobes, ruler points */
  readonly spacing: number
}

/**
 * Places with one more for every layer that a ridge at half its peak or more runs on into, by more than half a width of the
 * field, where nothing stands for that layer yet: the field alone reaches over a joint by half its width.
 */
export function runningOn(kept: readonly Interpreted[], layering: Layering): readonly Interpreted[] {
  const all = kept.map((one) => atOwn(one, layering))
  for (const one of [...all]) {
    for (const [cell, rows] of beyond(one, layering)) {
      const isThere = all.some((other) => other.layer === cell && liesOn(other, rows, layering))
      if (!isThere && rows.length > 0.5 * layering.perWidth) all.push(continued(one, cell, rows))
    }
  }
  return all.sort((a, b) => a.at - b.at || a.layer - b.layer)
}

const strong = ({ ridge }: Interpreted): readonly Row[] => ridge.rows.slice(ridge.first, ridge.last + 1)

/** A place whose ridge has its top behind a joint is told by its own layer's strongest revolution. */
function atOwn(one: Interpreted, { cell }: Layering): Interpreted {
  if (cell(one.at) === one.layer) return one
  const rows = strong(one).filter(({ at }) => cell(at) === one.layer)
  return rows.length === 0 ? one : moved(one, strongestOf(rows))
}

function strongestOf(rows: readonly Row[]): Row {
  let best = rows[0]!
  for (const row of rows) if (row.size > best.size) best = row
  return best
}

function moved(one: Interpreted, row: Row): Interpreted {
  const { ridge, features } = one
  const share = row.size / ridge.rows[ridge.peak]!.size
  return {
    ...one,
    at: row.at,
    statistic: one.statistic * share,
    features: { ...features, matched: row.size },
    ridge: { ...ridge, peak: ridge.rows.indexOf(row) }
  }
}

/** Revolutions of a ridge at half its peak or more in other layers than its own. */
function beyond(one: Interpreted, { cell }: Layering): ReadonlyMap<number, readonly Row[]> {
  const cells = new Map<number, Row[]>()
  for (const row of strong(one)) {
    const at = cell(row.at)
    if (at !== one.layer) cells.set(at, [...(cells.get(at) ?? []), row])
  }
  return cells
}

function liesOn(other: Interpreted, rows: readonly Row[], { spacing }: Layering): boolean {
  for (const own of strong(other)) for (const { at } of rows) if (Math.abs(at - own.at) <= spacing) return true
  return false
}

function continued(one: Interpreted, cell: number, rows: readonly Row[]): Interpreted {
  const onward = {
    what: 'layers',
    sentence: 'It runs on across a joint from the layer beside, without a maximum of its own: one entry a layer.',
    speaks: 'neither' as const
  }
  const own = moved(one, strongestOf(rows))
  return {
    ...own,
    layer: cell,
    alike: [],
    features: { ...own.features, rows: rows.length },
    evidence: [onward, ...one.evidence]
  }
}

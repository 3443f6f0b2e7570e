/** A finding of one run as a patch of the weld: mm along it and across it, side B positive. */
export interface RunFinding {
  readonly run: string
  readonly id: string
  readonly along_mm: readonly [number, number]
  readonly across_mm: readonly [number, number]
  /** 1 = the alarm slot under the local coating */
  readonly amplitude: number
}

/** Findings of several runs that are one place: the larger amplitude governs, the others stand with it. */
export interface JoinedFinding<F extends RunFinding = RunFinding> {
  readonly governs: F
  readonly others: readonly F[]
  readonly along_mm: readonly [number, number]
  readonly across_mm: readonly [number, number]
}

export interface RunPlace {
  readonly run: 'along' | 'across'
  /** where the run lies: across from the middle of a run along, along the weld of a run across, mm */
  readonly at_mm: number
  /** width of the field beside the run, mm */
  readonly field_mm: number
}

/** The patch that a stretch of a run stands for: its own length, and beside it as much as the field sees. */
export function patchOf(
  stretch_mm: readonly [number, number],
  { run, at_mm, field_mm }: RunPlace
): Pick<RunFinding, 'along_mm' | 'across_mm'> {
  const beside = [at_mm - 0.5 * field_mm, at_mm + 0.5 * field_mm] as const
  return run === 'along' ? { along_mm: stretch_mm, across_mm: beside } : { along_mm: beside, across_mm: stretch_mm }
}

/**
 * Joins findings of runs that cross or lie beside each other where their patches touch. Two findings of one run stay two,
 * unless another run holds them together. Nothing is dropped: what does not govern stands with what does.
 */
export function joinRuns<F extends RunFinding>(findings: readonly F[], near_mm: number): readonly JoinedFinding<F>[] {
  const group = findings.map((_, i) => i)
  const rootOf = (i: number): number => (group[i] === i ? i : rootOf(group[i]!))
  findings.forEach((one, i) => {
    for (let k = 0; k < i; k++) {
      const other = findings[k]!
      if (one.run !== other.run && touch(one, other, near_mm)) group[rootOf(i)] = rootOf(k)
    }
  })
  const groups = new Map<number, F[]>()
  findings.forEach((one, i) => {
    const root = rootOf(i)
    groups.set(root, [...(groups.get(root) ?? []), one])
  })
  return [...groups.values()].map(joined)
}

const touch = (a: RunFinding, b: RunFinding, near: number): boolean =>
  overlap(a.along_mm, b.along_mm, near) && overlap(a.across_mm, b.across_mm, near)

const overlap = (a: readonly [number, number], b: readonly [number, number], near: number): boolean =>
  a[0] <= b[1] + near && b[0] <= a[1] + near

function joined<F extends RunFinding>(all: readonly F[]): JoinedFinding<F> {
  const governs = all.reduce((best, one) => (one.amplitude > best.amplitude ? one : best))
  const span = (of: (one: F) => readonly [number, number]): readonly [number, number] =>
    all.reduce<readonly [number, number]>(
      ([low, high], one) => [Math.min(low, of(one)[0]), Math.max(high, of(one)[1])],
      [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
    )
  return {
    governs,
    others: all.filter((one) => one !== governs),
    along_mm: span(({ along_mm }) => along_mm),
    across_mm: span(({ across_mm }) => across_mm)
  }
}

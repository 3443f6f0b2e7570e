/** Scoring of tracks along welds with known truth: the one definition of what is found, false and how far off. Lengths in mm. */

export interface TrackCall {
  readonly from_mm: number
  readonly to_mm: number
  readonly amplitude: number
  readonly depth_mm?: number
  readonly lower_mm?: number
  readonly upper_mm?: number
}

export interface CoatingFigures {
  readonly least?: number
  readonly median?: number
  readonly greatest?: number
}

export interface TrackOutcome {
  readonly weld: string
  readonly flaws: readonly TrueTrackFlaw[]
  /** relevant and undecided indications */
  readonly calls: readonly TrackCall[]
  readonly coating: { readonly true_: CoatingFigures; readonly told: CoatingFigures }
}

export interface TrueTrackFlaw {
  readonly start_mm: number
  readonly end_mm: number
  readonly length_mm: number
  readonly depth_mm: number
}

export interface TrackRules {
  /** flaws that have to be found */
  readonly due: { readonly depth_mm: number; readonly length_mm: number }
  /** a call within this of a flaw is at it */
  readonly near_mm: number
  /** depths beyond are not scored: the deepest slot */
  readonly deepest_mm: number
}

export interface TrackScore {
  readonly due: number
  readonly foundDue: number
  readonly falseCalls: number
  /** largest error of an end of a found due flaw; absent where none was found */
  readonly endError_mm?: number
  /** mean absolute error of depth values of found due flaws up to the deepest slot */
  readonly depthMae_mm?: number
  readonly depthScored: number
  readonly bounds: number
  readonly boundsTrue: number
  /** mean absolute error of least, median and greatest coating, as far as they are told */
  readonly coatingMae_mm?: number
  readonly coatingMedianError_mm?: number
  readonly coatingEndError_mm?: number
  readonly missed: readonly string[]
  readonly called: readonly string[]
}

const isAt = ({ start_mm, end_mm }: TrueTrackFlaw, { from_mm, to_mm }: TrackCall, near: number): boolean =>
  from_mm <= end_mm + near && to_mm >= start_mm - near

/** A flaw is found by the call at it; of several the largest governs, with its ends and its depth. */
export function scoreTracks(outcomes: readonly TrackOutcome[], { due, near_mm, deepest_mm }: TrackRules): TrackScore {
  const isDue = (flaw: TrueTrackFlaw) => flaw.depth_mm >= due.depth_mm && flaw.length_mm >= due.length_mm
  const asked = outcomes.flatMap(({ weld, flaws, calls }) =>
    flaws.filter(isDue).map((flaw) => ({ weld, flaw, calls: calls.filter((call) => isAt(flaw, call, near_mm)) }))
  )
  const found = asked.filter(({ calls }) => calls.length > 0)
  const false_ = outcomes.flatMap(({ weld, flaws, calls }) =>
    calls
      .filter((call) => !flaws.some((flaw) => isAt(flaw, call, near_mm)))
      .map(({ from_mm }) => `${weld} at ${from_mm.toFixed(1)} mm`)
  )
  const told = found.map(({ flaw, calls }) => ({ flaw, main: largest(calls) }))
  const scored = told.filter(({ flaw, main }) => flaw.depth_mm <= deepest_mm && main.depth_mm !== undefined)
  const bounded = told.filter(
    ({ main }) => main.depth_mm === undefined && (main.lower_mm ?? main.upper_mm) !== undefined
  )
  const coating = coatingErrors(outcomes)
  return {
    due: asked.length,
    foundDue: found.length,
    falseCalls: false_.length,
    ...named('endError_mm', most(told.flatMap(({ flaw, main }) => endErrors(flaw, main)))),
    ...named('depthMae_mm', mean(scored.map(({ flaw, main }) => Math.abs(main.depth_mm! - flaw.depth_mm)))),
    depthScored: scored.length,
    bounds: bounded.length,
    boundsTrue: bounded.filter(({ flaw, main }) => holds(main, flaw.depth_mm)).length,
    ...named('coatingMae_mm', mean([...coating.medians, ...coating.ends])),
    ...named('coatingMedianError_mm', most(coating.medians)),
    ...named('coatingEndError_mm', most(coating.ends)),
    missed: asked
      .filter(({ calls }) => calls.length === 0)
      .map(({ weld, flaw }) => `${weld} at ${flaw.start_mm.toFixed(1)} mm`),
    called: false_
  }
}

const largest = (calls: readonly TrackCall[]): TrackCall =>
  calls.reduce((best, one) => (one.amplitude > best.amplitude ? one : best))

const endErrors = ({ start_mm, end_mm }: TrueTrackFlaw, { from_mm, to_mm }: TrackCall): readonly number[] => [
  Math.abs(from_mm - start_mm),
  Math.abs(to_mm - end_mm)
]

const holds = ({ lower_mm, upper_mm }: TrackCall, depth: number): boolean =>
  (lower_mm === undefined || depth >= lower_mm) && (upper_mm === undefined || depth <= upper_mm)

function coatingErrors(outcomes: readonly TrackOutcome[]) {
  const of = (key: keyof CoatingFigures) =>
    outcomes.flatMap(({ coating: { true_, told } }) =>
      true_[key] === undefined || told[key] === undefined ? [] : [Math.abs(true_[key] - told[key])]
    )
  return { medians: of('median'), ends: [...of('least'), ...of('greatest')] }
}

const named = <K extends string>(key: K, value: number | undefined): { readonly [P in K]?: number } =>
  (value === undefined ? {} : { [key]: value }) as { readonly [P in K]?: number }

const mean = (values: readonly number[]): number | undefined =>
  values.length === 0 ? undefined : values.reduce((sum, value) => sum + value, 0) / values.length

const most = (values: readonly number[]): number | undefined =>
  values.length === 0 ? undefined : values.reduce((a, b) => Math.max(a, b))

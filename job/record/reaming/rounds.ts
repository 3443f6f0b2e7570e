import { measuredOf } from '../../plan/index.ts'
import type { Decisions, Placed } from '../decided.ts'
import type { ExaminationState } from '../state.ts'
import { choiceOf, type ReamChoice } from './choice.ts'

/** A cut and what was done after it, up to the next one. */
export interface Round {
  /** day of the cut */
  readonly day: string
  /** what was chosen before it; absent where nothing was recorded with the choice */
  readonly choice?: ReamChoice
  /** whether an indication waited when it was chosen */
  readonly hadTrace: boolean
  readonly isCleaned: boolean
  /** diameters after it, by the last measuring */
  readonly measured_mm?: readonly number[]
  /** diameters before it */
  readonly before_mm: readonly number[]
  /** scans that stand, taken after it was measured */
  readonly scans: readonly ExaminationState[]
  /** those under a standardization at that diameter */
  readonly fitting: readonly ExaminationState[]
}

export interface Rounded {
  readonly decisions: Decisions
  readonly prepared: readonly Placed<'place-prepared'>[]
  /** all examinations of the place, those before a cut too */
  readonly examinations: readonly ExaminationState[]
}

export const roundsOf = (all: Rounded): readonly Round[] => {
  const cuts = [...all.decisions.cuts].sort((a, b) => a.seq - b.seq)
  return cuts.map((cut, at) => roundOf(all, cut, cuts[at + 1]))
}

function roundOf(all: Rounded, cut: Placed<'reamed'>, next: Placed<'reamed'> | undefined): Round {
  const { isBefore, disposed } = all.decisions
  const isIn = (seq: number) => isBefore(cut.seq, seq) && (next === undefined || isBefore(seq, next.seq))
  const day = cut.entry.at.time.slice(0, 10)
  const chosen = disposed.findLast(
    ({ seq, entry }) => isBefore(seq, cut.seq) && entry.disposition === 'clean-up ream'
  )?.entry
  const cleaned = all.prepared.filter(({ seq, entry }) => isIn(seq) && entry.cleaned.on >= day)
  const measured = cleaned.filter(({ entry }) => (measuredOf(entry)?.measured.on ?? '') >= day)
  const scans = all.examinations.filter(
    ({ keptAt, standing }) =>
      isIn(keptAt) && standing.standing !== 'voided' && measured.some(({ seq }) => isBefore(seq, keptAt))
  )
  const [choice, measured_mm] = [choiceOf(chosen), diameters(measured.at(-1))]
  return {
    ...{ day, hadTrace: (chosen?.seen.length ?? 0) > 0, isCleaned: cleaned.length > 0, scans },
    ...(choice === undefined ? {} : { choice }),
    ...(measured_mm === undefined ? {} : { measured_mm }),
    before_mm: measuredBefore(all, cut) ?? choice?.measured_mm.at(-1) ?? [],
    fitting: scans.filter((one) => isFitting(one, measured_mm, choice))
  }
}

/** Largest and smallest. */
function diameters(prepared: Placed<'place-prepared'> | undefined): readonly number[] | undefined {
  const measured = measuredOf(prepared?.entry)
  if (measured === undefined) return undefined
  const { measured_diameter_mm: largest, out_of_round_mm: outOfRound } = measured
  return [largest, toNanometer(largest - outOfRound)]
}

const toNanometer = (mm: number): number => Math.round(1e6 * mm) / 1e6

/** The last measuring before a cut; before any, where no cut is named. */
export function measuredBefore({ prepared, decisions }: Rounded, cut: Placed<'reamed'> | undefined) {
  const before = prepared.filter(({ seq }) => cut === undefined || decisions.isBefore(seq, cut.seq))
  return diameters(before.findLast(({ entry }) => measuredOf(entry) !== undefined))
}

/** A standardization holds for a diameter class: for the widest and for the narrowest of the hole. */
function isFitting(
  { standardDiameter_mm: standard }: ExaminationState,
  measured_mm: readonly number[] | undefined,
  choice: ReamChoice | undefined
): boolean {
  if (standard === undefined || measured_mm === undefined || choice === undefined) return false
  const apart = toNanometer(Math.max(...measured_mm.map((one) => Math.abs(one - standard))))
  return apart <= choice.rules.diameter_class_mm
}

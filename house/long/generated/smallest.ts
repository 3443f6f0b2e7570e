import {
  findsOf,
  habitOf,
  habitPeaks,
  isFalse,
  isFoundBy,
  type TrialPart,
  type TrueFlaw
} from '../../../job/rehearse/index.ts'
import { reaches } from '../../../job/rehearse/score.ts'
import { type Examined, examinedHoles, notExaminedWhy, outcomeOf, spotOf, standardized } from './examine.ts'
import { sizeFoundAt } from './logistic.ts'
import { figure, groupsOf, tableOf } from './numbers.ts'

/**
 * The smallest flaw found in nine of ten where one hole in 200 without a flaw is falsely called: the detector at its own
 * threshold against the vertical-amplitude habit on the same recordings, swept to the level that calls as few.
 */
export interface FlawRow {
  readonly what: 'flaw'
  readonly setup: string
  readonly hole: string
  readonly place: TrueFlaw['place']
  readonly depth_mm: number
  /** by a call of ours, and whether anything of whatever class was indicated there */
  readonly found: boolean
  readonly indicated: boolean
  /** highest level of the habit where it would find the flaw, alarm notches */
  readonly habit: number
}

export interface HoleRow {
  readonly what: 'hole'
  readonly setup: string
  readonly hole: string
  readonly blank: boolean
  readonly falselyCalled: boolean
  /** highest level of the habit anywhere in the hole, alarm notches */
  readonly habit: number
  readonly notExamined: readonly string[]
}

export type SmallestRow = FlawRow | HoleRow

export function* smallestRows(part: TrialPart): Generator<SmallestRow> {
  const under = standardized(part)
  const { setup } = part
  if (typeof under === 'string') {
    const none = { blank: false, falselyCalled: false, habit: 0 }
    yield { what: 'hole', setup: setup.id, hole: 'reference', ...none, notExamined: [under] }
    return
  }
  const habit = habitOf(under.reference, setup)
  for (const one of examinedHoles(under)) yield* rowsOf(part, one, habitPeaks(habit, one.recording))
}

type Peaks = ReturnType<typeof habitPeaks>

const highest = (peaks: Peaks): number => peaks.reduce((most, { level }) => Math.max(most, level), 0)

function* rowsOf({ setup: { id: setup } }: TrialPart, one: Examined, peaks: Peaks): Generator<SmallestRow> {
  const outcome = outcomeOf(one)
  const { flaws } = one.hole.truth
  yield {
    ...{ what: 'hole', setup, hole: one.hole.id, blank: flaws.length === 0 },
    falselyCalled: outcome.calls.some((call) => isFalse(call, one.hole.truth)),
    habit: rounded(highest(peaks)),
    notExamined: notExaminedWhy(one)
  }
  const finds = findsOf(outcome)
  const spots = (one.examination?.indications ?? []).map(spotOf)
  for (const flaw of flaws)
    yield {
      ...{ what: 'flaw', setup, hole: one.hole.id, place: flaw.place, depth_mm: flaw.depth_mm },
      found: finds.some((find) => find.flaw === flaw),
      indicated: spots.some((spot) => reaches(spot, flaw, 'found')),
      habit: rounded(highest(peaks.filter((peak) => isFoundBy(flaw, asCall(peak)))))
    }
}

const asCall = ({ angle_deg, z_mm }: Peaks[number]) =>
  ({ verdict: 'relevant', angle_deg, z_mm, size: { kind: 'withheld' } }) as const

const rounded = (level: number): number => Number(level.toFixed(5))

const wanted = { share: 0.9, falseShare: 1 / 200, ratio: 0.7 } as const

/** Level that a share of the blank holes passes, between the two ranks beside it. */
export function levelPassedBy(share: number, highests: readonly number[]): number {
  const sorted = [...highests].sort((a, b) => b - a)
  const at = share * sorted.length - 0.5
  const below = Math.min(sorted.length - 1, Math.max(0, Math.floor(at)))
  const above = Math.min(sorted.length - 1, below + 1)
  const part = Math.min(1, Math.max(0, at - below))
  return sorted[below]! + part * (sorted[above]! - sorted[below]!)
}

/**
 * The same level of one set-up, from few holes: the highest of many values of noise follows exp(−exp(−(v − m)/s))
 * (Gumbel); m and s by mean and deviation, so that it says something of 1 in 200 from 50 holes.
 */
export function levelByTail(share: number, highests: readonly number[]): number {
  const mean = highests.reduce((sum, value) => sum + value, 0) / highests.length
  const square = highests.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (highests.length - 1)
  const scale = Math.sqrt(6 * square) / Math.PI
  return mean - EULER * scale - scale * Math.log(-Math.log1p(-share))
}

const EULER = 0.5772156649015329

/** Ways to set the habit's alarm. */
const settings = ['one level for all', 'a level a set-up'] as const
type Setting = (typeof settings)[number]

type Levels = (setup: string) => number

function levelsOf(setting: Setting, blanks: readonly HoleRow[]): Levels {
  if (setting === 'one level for all') {
    const level = levelPassedBy(
      wanted.falseShare,
      blanks.map(({ habit }) => habit)
    )
    return () => level
  }
  const levels = new Map(
    [...groupsOf(blanks, ({ setup }) => setup)].map(([setup, some]) => [
      setup,
      levelByTail(
        wanted.falseShare,
        some.map(({ habit }) => habit)
      )
    ])
  )
  return (setup) => levels.get(setup) ?? Number.POSITIVE_INFINITY
}

const sizeOf = (flaws: readonly FlawRow[], isFound: (flaw: FlawRow) => boolean) => {
  const at = sizeFoundAt(
    wanted.share,
    flaws.map((flaw) => ({ size: flaw.depth_mm, found: isFound(flaw) }))
  )
  return at.kind === 'none' ? { size: Number.NaN, how: at.why } : { size: at.size, how: at.kind }
}

/** Ours and the habit's over some flaws. */
export function comparedOver(flaws: readonly FlawRow[], levels: Levels) {
  const ours = sizeOf(flaws, ({ found }) => found)
  const indicated = sizeOf(flaws, (flaw) => flaw.indicated)
  const habit = sizeOf(flaws, (flaw) => flaw.habit >= levels(flaw.setup))
  return {
    flaws: flaws.length,
    found: flaws.filter(({ found }) => found).length,
    indicated: flaws.filter((flaw) => flaw.indicated).length,
    habitFound: flaws.filter((flaw) => flaw.habit >= levels(flaw.setup)).length,
    ours_mm: figure(ours.size),
    indicated_mm: figure(indicated.size),
    habit_mm: figure(habit.size),
    ratio: figure(ours.size / habit.size),
    how: `${ours.how} / ${habit.how}`
  }
}

export function smallestFigures(rows: readonly SmallestRow[]) {
  const flaws = rows.flatMap((row) => (row.what === 'flaw' ? [row] : []))
  const holes = rows.flatMap((row) => (row.what === 'hole' ? [row] : []))
  const blanks = holes.filter(({ blank }) => blank)
  const by = settings.map((setting) => settingFigures(setting, { flaws, blanks }))
  const called = blanks.filter(({ falselyCalled }) => falselyCalled).length
  return {
    ok: by.every(({ all }) => all.ratio !== null && all.ratio <= wanted.ratio) && blanks.length > 0,
    wanted,
    method: 'logistic of the share found on the logarithm of depth, greatest likelihood; the size at nine of ten',
    blanks: { holes: blanks.length, falselyCalled: called },
    flawed: { holes: holes.length - blanks.length, falselyCalled: holes.filter(isFalselyCalled).length - called },
    by,
    notExamined: holes.flatMap(({ hole, notExamined }) => notExamined.map((why) => `${hole}: ${why}`))
  }
}

const isFalselyCalled = ({ falselyCalled }: HoleRow): boolean => falselyCalled

interface Rows {
  readonly flaws: readonly FlawRow[]
  readonly blanks: readonly HoleRow[]
}

function settingFigures(setting: Setting, { flaws, blanks }: Rows) {
  const levels = levelsOf(setting, blanks)
  const group = (nameOf: (row: FlawRow) => string) =>
    [...groupsOf(flaws, nameOf)].map(([name, some]) => ({ name, ...comparedOver(some, levels) }))
  return {
    setting,
    blanksPassed: blanks.filter(({ habit, setup }) => habit >= levels(setup)).length,
    all: comparedOver(flaws, levels),
    places: group(({ place }) => place),
    setups: group(({ setup }) => setup).map((one) => ({ ...one, level: figure(levels(one.name)) }))
  }
}

type Figures = ReturnType<typeof smallestFigures>

const columns = [
  'flaws',
  'found',
  'indicated',
  'habitFound',
  'ours_mm',
  'indicated_mm',
  'habit_mm',
  'ratio',
  'how'
] as const

export const smallestTable = ({ by, blanks, flawed }: Figures): readonly string[] => [
  `without a flaw: ${blanks.falselyCalled} of ${blanks.holes} falsely called; with: ${flawed.falselyCalled} of ${flawed.holes}`,
  ...by.flatMap(({ setting, all, places, setups, blanksPassed }) => [
    `the habit with ${setting}; it calls ${blanksPassed} of ${blanks.holes} blank holes`,
    ...tableOf(
      ['', ...columns, 'level'],
      [
        ...setups.map((one) => [one.name, ...columns.map((column) => one[column]), one.level]),
        ...places.map((one) => [one.name, ...columns.map((column) => one[column]), null]),
        ['all', ...columns.map((column) => all[column]), null]
      ]
    )
  ])
]

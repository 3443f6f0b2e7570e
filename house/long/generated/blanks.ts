import { generate, type TrialPart } from '../../../job/rehearse/index.ts'
import { acceptanceOf, isWithin } from './chance.ts'
import { examined, type Indicated, isExamined, notExaminedWhy, standardized } from './examine.ts'
import { countsOf, figure, groupsOf, sumOf, tableOf } from './numbers.ts'

/**
 * Holes without a flaw. Of each: the stated number of indications that its noise alone brings up, and what came up, by
 * class. The number that the method is asked for is rare by design, so the same recordings are examined once more with it
 * moved up: then even a few hundred holes tell whether what is stated is too low or too high.
 */
export const MOVED_FALSE_CALLS = 0.1

/** What one examination of a hole without a flaw stated and brought up. */
export interface Blank {
  /** stated number of indications by noise; absent where the hole was not examined */
  readonly stated: number
  /** classes of what came up */
  readonly classes: readonly string[]
}

export interface BlankRow {
  readonly setup: string
  readonly hole: string
  readonly own?: Blank
  readonly moved?: Blank
  readonly notExamined?: readonly string[]
  /** what came up, for whoever looks for the reason */
  readonly seen?: readonly string[]
}

export function* blankRows(part: TrialPart): Generator<BlankRow> {
  const under = standardized(part)
  const setup = part.setup.id
  if (typeof under === 'string') {
    yield { setup, hole: 'reference', notExamined: [under] }
    return
  }
  for (const hole of part.holes) {
    const recording = generate(hole.scene, hole.seed)
    const own = examined(under, { hole, recording })
    const moved = examined(under, { hole, recording }, { detection: { falseCallsPerHole: MOVED_FALSE_CALLS } })
    const why = notExaminedWhy(own)
    yield {
      ...{ setup, hole: hole.id },
      ...fieldOf('own', own.examination),
      ...fieldOf('moved', moved.examination),
      ...(why.length > 0 ? { notExamined: why } : {}),
      ...seenOf(own.examination?.indications ?? [])
    }
  }
}

const seenOf = (indications: readonly Indicated[]): Pick<BlankRow, 'seen'> =>
  indications.length === 0 ? {} : { seen: indications.map(telling) }

const telling = ({ class: is, cause, zone, signalToNoise, matched, phase_rad, revolutions }: Indicated): string =>
  `${is}, ${cause}, ${zone}: ${signalToNoise.toFixed(1)} deviations, ${matched.toFixed(3)} notches at ` +
  `${((180 * phase_rad) / Math.PI).toFixed(0)}°, ${revolutions} revolutions`

function fieldOf(name: 'own' | 'moved', examination: Parameters<typeof isExamined>[0]): Partial<BlankRow> {
  const stated = examination?.noise?.falseCalls
  if (examination === undefined || stated === undefined || !isExamined(examination)) return {}
  return { [name]: { stated, classes: examination.indications.map((one) => one.class) } }
}

/** How holes with an indication are counted. */
export const countings = {
  'any class': () => true,
  'what noise explains': (is: string) => is !== 'nonrelevant',
  calls: (is: string) => is === 'relevant' || is === 'undecided'
} as const satisfies Readonly<Record<string, (is: string) => boolean>>

export type Counting = keyof typeof countings

const LEVEL = 0.99

/** Chance of one indication or more where so many are expected and each comes by itself. */
const chanceOf = (expected: number): number => -Math.expm1(-expected)

/** Stated against seen over some holes: the count of holes with an indication, and the 99 % interval of that count as stated. */
export function compared(blanks: readonly Blank[]) {
  const { least, most, expected } = acceptanceOf(
    blanks.map(({ stated }) => chanceOf(stated)),
    LEVEL
  )
  const holesWith = (counting: Counting): number =>
    blanks.filter(({ classes }) => classes.some(countings[counting])).length
  const seen = {
    'any class': holesWith('any class'),
    'what noise explains': holesWith('what noise explains'),
    calls: holesWith('calls')
  }
  return {
    holes: blanks.length,
    statedIndications: figure(sumOf(blanks.map(({ stated }) => stated))),
    statedHoles: figure(expected),
    interval: { level: LEVEL, least, most },
    seen,
    within: isWithin({ least, most, expected }, seen['what noise explains'])
  }
}

const ownOf = (rows: readonly BlankRow[]): readonly Blank[] => rows.flatMap(({ own }) => (own ? [own] : []))
const movedOf = (rows: readonly BlankRow[]): readonly Blank[] => rows.flatMap(({ moved }) => (moved ? [moved] : []))

/**
 * Figures of the trial. It holds where the holes with an indication that noise explains lie in the 99 % interval of the
 * stated count at the method's own number. At the moved one, far from where a level is ever set, they may be fewer: the model
 * counts places that lie beside each other one by one, and the detector takes them for one. Counted as explained by noise is every indication but
 * the nonrelevant ones: faces, joints, ovality and wobble are really there in these holes.
 */
export function blankFigures(rows: readonly BlankRow[]) {
  const own = compared(ownOf(rows))
  const moved = { falseCallsPerHole: MOVED_FALSE_CALLS, ...compared(movedOf(rows)) }
  const setups = [...groupsOf(rows, ({ setup }) => setup)].map(([setup, some]) => ({
    setup,
    own: compared(ownOf(some)),
    moved: compared(movedOf(some))
  }))
  return {
    ok: own.within && moved.seen['what noise explains'] <= moved.interval.most && own.holes > 0,
    counted:
      'holes with an indication of any class but nonrelevant (faces, joints, ovality are really there); ' +
      'beside it those with one of any class, and those with a call (relevant or undecided)',
    own,
    moved,
    classes: countsOf(rows.flatMap(({ own: one }) => one?.classes ?? [])),
    notExamined: countsOf(rows.flatMap(({ notExamined }) => (notExamined ? [notExamined[0]!] : []))),
    seen: rows.flatMap(({ hole, seen = [] }) => seen.map((what) => `${hole}: ${what}`)),
    setups
  }
}

type Figures = ReturnType<typeof blankFigures>
type Compared = Figures['own']

const cellsOf = ({ holes, statedHoles, interval: { least, most }, seen, within }: Compared) => [
  ...[holes, statedHoles === null ? null : statedHoles.toFixed(2), `${least}–${most}`],
  ...[seen['what noise explains'], seen['any class'], seen.calls, within ? 'within' : 'OUTSIDE']
]

export const blankTable = ({ own, moved, setups }: Figures): readonly string[] => {
  const head = ['holes with one', 'examined', 'stated', '99 %', 'by noise', 'any class', 'calls', '']
  return [
    `at the method's own number of false calls`,
    ...tableOf(head, [...setups.map((one) => [one.setup, ...cellsOf(one.own)]), ['all', ...cellsOf(own)]]),
    `with that number moved to ${MOVED_FALSE_CALLS}`,
    ...tableOf(head, [...setups.map((one) => [one.setup, ...cellsOf(one.moved)]), ['all', ...cellsOf(moved)]])
  ]
}

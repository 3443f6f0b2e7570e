import { findsOf, type TrialPart, type TrueFlaw } from '../../../job/rehearse/index.ts'
import { callsOf, type Examined, examinedHoles, notExaminedWhy, standardized } from './examine.ts'
import { countsOf, figure, groupsOf, middleOf, shareOf, tableOf } from './numbers.ts'

/** One notch-like flaw: what it is, and what was said of its depth. */
export interface SizedRow {
  readonly setup: string
  readonly hole: string
  readonly place: TrueFlaw['place']
  readonly depth_mm: number
  readonly length_mm: number
  readonly said: 'not found' | 'value' | 'bounds' | 'withheld'
  /** what the flaw was placed as */
  readonly placedAs?: string
  readonly value_mm?: number
  readonly lower_mm?: number
  readonly upper_mm?: number
  readonly basis?: string
  /** codes of what was held back, or the reasons for which no size was stated */
  readonly why: readonly string[]
}

export type SizingRow = SizedRow | { readonly setup: string; readonly notExamined: readonly string[] }

export function* sizingRows(part: TrialPart): Generator<SizingRow> {
  const under = standardized(part)
  const setup = part.setup.id
  if (typeof under === 'string') {
    yield { setup, notExamined: [under] }
    return
  }
  for (const one of examinedHoles(under)) {
    const why = notExaminedWhy(one)
    if (why.length > 0) yield { setup, notExamined: [`${one.hole.id}: ${why.join('; ')}`] }
    yield* flawsOf(setup, one)
  }
}

function flawsOf(setup: string, { hole, examination }: Examined): readonly SizedRow[] {
  const calls = examination === undefined ? [] : callsOf(examination)
  const finds = findsOf({ truth: hole.truth, calls })
  return hole.truth.flaws.map((flaw) => sizedRow(setup, { hole: hole.id, flaw, calls, finds }))
}

interface Called {
  readonly hole: string
  readonly flaw: TrueFlaw
  readonly calls: ReturnType<typeof callsOf>
  readonly finds: ReturnType<typeof findsOf>
}

/** What was said of one flaw. */
export function sizedRow(setup: string, { hole, flaw, calls, finds }: Called): SizedRow {
  const find = finds.find((one) => one.flaw === flaw)
  const indication = calls.find((call) => call === find?.call)?.indication
  const { place, depth_mm, length_mm } = flaw
  const row = { setup, hole, place, depth_mm, length_mm }
  if (indication === undefined) return { ...row, said: 'not found', why: [] }
  const { size } = indication
  return {
    ...row,
    said: size.depth_mm !== undefined ? 'value' : (size.lower_mm ?? size.upper_mm) ? 'bounds' : 'withheld',
    placedAs: indication.place,
    ...(size.depth_mm === undefined ? {} : { value_mm: size.depth_mm }),
    ...(size.lower_mm === undefined ? {} : { lower_mm: size.lower_mm }),
    ...(size.upper_mm === undefined ? {} : { upper_mm: size.upper_mm }),
    ...(size.basis === undefined ? {} : { basis: size.basis }),
    why: [...(size.why ?? []).map(({ code }) => code), ...size.withheld]
  }
}

/** Of values with an interval at 95 %. */
const wanted = { leastShare: 0.93, mostShare: 0.97, mostWidth_mm: 0.5 } as const

type Value = SizedRow & { readonly value_mm: number }

const isValue = (row: SizedRow): row is Value => row.said === 'value'
/** An end that is not stated is open. */
const isAbove = ({ lower_mm, depth_mm }: SizedRow): boolean => lower_mm === undefined || depth_mm >= lower_mm
const isBelow = ({ upper_mm, depth_mm }: SizedRow): boolean => upper_mm === undefined || depth_mm <= upper_mm
const holds = (row: SizedRow): boolean => isAbove(row) && isBelow(row)
/** An open interval is infinitely wide: the median does not gain by an end that is not stated. */
const widthOf = ({ lower_mm, upper_mm }: SizedRow): number =>
  lower_mm === undefined || upper_mm === undefined ? Number.POSITIVE_INFINITY : upper_mm - lower_mm

/** Counts over some flaws, the share of their intervals that holds the true depth, and how wide those are in the middle. */
export function sizedFigures(rows: readonly SizedRow[]) {
  const values = rows.filter(isValue)
  const bounds = rows.filter(({ said }) => said === 'bounds')
  return {
    flaws: rows.length,
    found: rows.filter(({ said }) => said !== 'not found').length,
    values: values.length,
    bounded: bounds.length,
    withheld: rows.filter(({ said }) => said === 'withheld').length,
    holds: figure(shareOf(values, holds)),
    truthBelow: values.filter((row) => !isAbove(row)).length,
    truthAbove: values.filter((row) => !isBelow(row)).length,
    openBelow: values.filter(({ lower_mm }) => lower_mm === undefined).length,
    openAbove: values.filter(({ upper_mm }) => upper_mm === undefined).length,
    medianWidth_mm: figure(middleOf(values.map(widthOf))),
    closedWidth_mm: figure(middleOf(values.map(widthOf).filter(Number.isFinite))),
    meanAbsolute_mm: figure(meanOf(values.map(({ value_mm, depth_mm }) => Math.abs(value_mm - depth_mm)))),
    meanError_mm: figure(meanOf(values.map(({ value_mm, depth_mm }) => value_mm - depth_mm))),
    boundsHold: figure(shareOf(bounds, holds))
  }
}

const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length

const depthsOf = ({ depth_mm }: SizedRow): string => {
  const from = 0.3 + 0.2 * Math.floor((depth_mm - 0.3) / 0.2)
  return `${from.toFixed(1)} to ${(from + 0.2).toFixed(1)} mm`
}

export function sizingFigures(all: readonly SizingRow[]) {
  const rows = all.flatMap((row) => ('said' in row ? [row] : []))
  const figures = sizedFigures(rows)
  const by = (nameOf: (row: SizedRow) => string) =>
    [...groupsOf(rows, nameOf)].map(([name, some]) => ({ name, ...sizedFigures(some) }))
  const { holds: share, medianWidth_mm: width } = figures
  return {
    ok: within(share, wanted.leastShare, wanted.mostShare) && within(width, 0, wanted.mostWidth_mm),
    wanted,
    all: figures,
    setups: by(({ setup }) => setup),
    places: by(({ place }) => place),
    depths: by(depthsOf).sort((a, b) => (a.name < b.name ? -1 : 1)),
    placedAs: by(({ place, placedAs = 'not found' }) => `${place} taken as ${placedAs}`),
    bases: by(({ basis = 'no value', said }) => (said === 'value' ? basis : said)),
    reasons: countsOf(rows.flatMap(({ said, why }) => [...new Set(why)].map((one) => `${said}: ${one}`))),
    notExamined: all.flatMap((row) => ('notExamined' in row ? row.notExamined : [])),
    outside: rows.filter((row) => isValue(row) && !holds(row)).map(({ why: _, ...row }) => row)
  }
}

const within = (value: number | null, least: number, most: number): boolean =>
  value !== null && value >= least && value <= most

type Figures = ReturnType<typeof sizingFigures>

const columns = [
  ...([
    'flaws',
    'found',
    'values',
    'bounded',
    'withheld',
    'holds',
    'truthBelow',
    'truthAbove',
    'openBelow',
    'openAbove'
  ] as const),
  ...(['medianWidth_mm', 'closedWidth_mm', 'meanAbsolute_mm', 'meanError_mm', 'boundsHold'] as const)
]

export function sizingTable({ all, setups, places, depths, placedAs, bases, reasons }: Figures): readonly string[] {
  const groups = { setups, places, depths, placedAs, bases }
  return [
    ...Object.entries(groups).flatMap(([head, some]) => [
      ...tableOf(
        [head, ...columns],
        [...some, { name: 'all', ...all }].map((one) => [one.name, ...columns.map((c) => one[c])])
      ),
      ''
    ]),
    ...Object.entries(reasons).map(([reason, count]) => `${count}  ${reason}`)
  ]
}

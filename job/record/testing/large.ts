import type { Examination } from '../../examine/index.ts'
import { canonical } from '../canonical.ts'
import type { Entry } from '../kinds.ts'
import { findings, outcomeOf } from '../outcome.ts'
import { replay } from '../replay.ts'
import type { ReportInput } from '../report-input.ts'
import { chainOfEntries, head, kept, opened, rechecked, sha256, standardized } from './entries.ts'
import { inventedReport } from './invented.ts'

/**
 * An invented job of many holes, made of those of the small one: of 50 holes 2 have a relevant indication, 1 an
 * undecided one, 1 a gap, 1 was not scanned; a recheck after every 50.
 */
export function largeReport(holes: number): ReportInput {
  const whole = inventedReport()
  const { entries, examinations } = largeJob('INV-LARGE', holes)
  const [first] = whole.standardizations
  return {
    ...whole,
    state: replay(chainOfEntries('INV-LARGE', entries)),
    standardizations: [{ hash: standardized('r').standardization, document: first!.document }],
    examinations: examinations.map((document) => ({ hash: sha256(canonical(findings(document))), document })),
    refused: []
  }
}

/** The same as entries, with the examinations that they name; the bytes of a recording are its name. */
export function largeJob(job: string, holes: number) {
  const whole = inventedReport()
  const names = Array.from({ length: holes }, (_, at) => `W-${String(at + 1).padStart(4, '0')}`)
  const scanned = names.flatMap((name, at) =>
    at % 50 === 40 ? [] : [{ at, document: lookedAt(whole, name, at % 50) }]
  )
  const entries: Entry[] = [openedWith(whole, job, names), kept('r', { of: 'reference' }), standardized('r')]
  for (const { at, document } of scanned) entries.push(...scan(document), ...(at % 50 === 49 ? check(at) : []))
  return { entries, examinations: scanned.map(({ document }) => document) }
}

const openedWith = ({ state }: ReportInput, job: string, names: readonly string[]): Entry => ({
  ...opened(job, names),
  people: state.opened.people,
  ...(state.opened.equipment === undefined ? {} : { equipment: state.opened.equipment }),
  places: names.map((name) => ({ ...state.opened.places[0]!, name }))
})

const like = { 7: 'W-2', 19: 'W-2', 23: 'W-4', 31: 'W-3' } as const

function lookedAt(whole: ReportInput, name: string, at: number): Examination {
  const of = like[at as keyof typeof like] ?? 'W-1'
  const found = whole.examinations.find(({ document }) => document.subject === of)!.document
  const indications = found.indications.map((one) => ({ ...one, id: one.id.replace(of, name) }))
  return {
    ...{ ...found, subject: name, recording: sha256(name), indications },
    standardization: standardized('r').standardization
  }
}

const scan = (document: Examination): readonly Entry[] => [
  kept(document.subject, { of: 'hole', name: document.subject }),
  {
    ...{ kind: 'examined', version: 1, subject: { of: 'hole', name: document.subject } },
    ...head(),
    ...outcomeOf(document, sha256)
  }
]

const check = (at: number): readonly Entry[] => [
  kept(`check ${at}`, { of: 'recheck' }),
  rechecked(`check ${at}`, 'r', true)
]

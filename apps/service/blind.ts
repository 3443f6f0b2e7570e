import type { Refusal } from '@trueloop/ground/refusal'
import { type JobSummary, type PlaceDetail, placeOf, type StoredExamination } from '@trueloop/host/chain'
import { replayed } from '@trueloop/host/memory'
import { type EntryOf, type EntryRow, type JobState, stateNames } from '@trueloop/job/record'
import { refuse } from './codes.ts'

/**
 * Where a technique asks for the person's class before the proposal is shown (`class_first`): an indication of which this
 * person has stated none is told with its place and its signal, and without class, cause and evidence. To nobody else
 * either: who has not signed in has stated nothing.
 */
export class Blind {
  readonly #said: ReadonlySet<string>
  readonly #state: JobState

  private constructor(state: JobState, said: ReadonlySet<string>) {
    this.#state = state
    this.#said = said
  }

  /** Undefined where the job was opened with a technique that does not ask for it. `reader`: a name, or "anybody". */
  static of(rows: readonly EntryRow[], reader: string | undefined): Blind | undefined {
    if (rows.length === 0) return undefined
    const state = replayed(rows)
    if (state.opened.classFirst !== true) return undefined
    const said = rows
      .filter(({ kind }) => kind === 'interpreted')
      .map(({ body }) => JSON.parse(body) as EntryOf<'interpreted'>)
      .filter(({ by }) => reader === 'anybody' || by.name === reader)
    const seen = said.flatMap((one) => one.seen.map(({ examination, id }) => `${examination} ${id}`))
    return new Blind(state, new Set(seen))
  }

  get isAnyHidden(): boolean {
    return this.#details().some(({ indications }) => indications.some((one) => this.isHidden(one)))
  }

  #details(): readonly PlaceDetail[] {
    return this.#state.places.flatMap(({ place }) => placeOf(this.#state, place) ?? [])
  }

  isHidden({ seen }: PlaceDetail['indications'][number]): boolean {
    return seen.every(({ examination, id }) => !this.#said.has(`${examination} ${id}`))
  }

  place(whole: PlaceDetail): PlaceDetail {
    const hidden = whole.indications.filter((one) => this.isHidden(one))
    if (hidden.length === 0) return whole
    return {
      ...whole,
      ...rowOf(whole, hidden),
      indications: whole.indications.map((one) => (hidden.includes(one) ? bare(one) : one))
    }
  }

  summary(whole: JobSummary): JobSummary {
    const places = whole.places.map((row) => {
      const detail = placeOf(this.#state, row)
      const hidden = detail?.indications.filter((one) => this.isHidden(one)) ?? []
      return detail === undefined || hidden.length === 0 ? row : { ...row, ...rowOf(detail, hidden) }
    })
    return { ...whole, places, counts: countsOf(places) }
  }

  /** Ids of one examination's indications that are hidden. */
  hiddenIn(examination: string): ReadonlySet<string> {
    const seen = this.#details().flatMap(({ indications }) => indications.filter((one) => this.isHidden(one)))
    return new Set(
      seen.flatMap((one) => one.seen.filter((each) => each.examination === examination).map(({ id }) => id))
    )
  }

  examination(whole: StoredExamination): StoredExamination {
    const hidden = this.hiddenIn(whole.examination)
    if (hidden.size === 0) return whole
    const { document } = whole
    const told = `${hidden.size} indications are not told here: the technique asks for the person's class first`
    const indications = document.indications.filter(({ id }) => !hidden.has(id))
    return { ...whole, document: { ...document, indications, notes: [...document.notes, told] } }
  }
}

const first = 'a class by this person comes first'

/** What a row says of a place in which something is hidden: as many indications, nothing of their classes. */
function rowOf(whole: PlaceDetail, hidden: PlaceDetail['indications']) {
  const ids = new Set(hidden.map(({ id }) => id))
  const shown = whole.indications.filter(({ id }) => !ids.has(id))
  const isOpen = whole.disposition === undefined
  const open = whole.open.filter((words) => ![...ids].some((id) => words.startsWith(`${id}, `)))
  return {
    ...(isOpen && told.includes(whole.state) ? { state: 'undecided' as const } : {}),
    relevant: shown.filter((one) => one.class === 'relevant').length,
    undecided: shown.filter((one) => one.open && one.class !== 'relevant').length + hidden.length,
    aboveAlarm: shown.filter(({ crossedAlarm }) => crossedAlarm).length,
    open: isOpen ? [...open, ...[...ids].map((id) => `${id}: ${first}`)] : open
  }
}

/** States that follow from classes. */
const told: readonly PlaceDetail['state'][] = ['relevant, not decided', 'undecided', 'examined, no relevant indication']

function bare({ decided: _, ...one }: PlaceDetail['indications'][number]): PlaceDetail['indications'][number] {
  return {
    ...one,
    ...{ hidden: true, class: 'undecided', proposed: 'undecided', crossedAlarm: false, open: true, says: first },
    standing: 'not scanned again',
    seen: one.seen.map(({ cause: __, ...seen }) => ({ ...seen, class: 'undecided' as const, crossedAlarm: false }))
  }
}

const countsOf = (places: JobSummary['places']): JobSummary['counts'] =>
  stateNames.map((state) => ({ state, count: places.filter((row) => row.state === state).length }))

export const classFirst = (what: string): Refusal =>
  refuse('service/class-first', {
    found: `${what}, with what the program proposes`,
    needed: 'a class by this person first: the technique asks for it (class_first)',
    remedy: 'sign in, look at the signal, and state a class for every indication'
  })

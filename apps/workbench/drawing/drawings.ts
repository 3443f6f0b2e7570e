import type { JobSummary, PlaceKey, PlaceRow } from '../asking/client.ts'
import type { Waiting } from '../outbox/waiting.ts'

/** Drawings and photos of the component, with what is stated of them and not recorded yet. */

export type Drawing = JobSummary['drawings'][number]
export type DrawnPlace = Drawing['places'][number]

/** Where a place is put while nothing is stated yet: shares of the picture, and its page. */
export type Drafts = ReadonlyMap<string, { readonly x: number; readonly y: number; readonly page: number } | undefined>

/** What waits in this page counts as recorded for the eye: it will be. */
export function drawnNow(drawing: Drawing, waiting: readonly Waiting[], drafts: Drafts): readonly DrawnPlace[] {
  const at = new Map<string, DrawnPlace>(drawing.places.map((one) => [one.name, one]))
  const kinds = new Map(drawing.places.map(({ name, of }) => [name, of]))
  const put = (name: string, where: Parameters<Map<string, DrawnPlace>['set']>[1] | undefined) =>
    where === undefined ? at.delete(name) : at.set(name, where)
  for (const { statement, refused } of waiting) {
    if (refused !== undefined || statement.what !== 'place on a drawing' || statement.drawing !== drawing.sha256)
      continue
    for (const { place, at: there } of statement.marks)
      put(place, there && { of: kinds.get(place) ?? 'hole', name: place, ...there })
  }
  for (const [name, there] of drafts) put(name, there && { of: kinds.get(name) ?? 'hole', name, ...there })
  return [...at.values()]
}

/** A mark of the picture with the row of its place. */
export interface Mark extends PlaceKey {
  readonly x: number
  readonly y: number
  readonly row: PlaceRow
}

/** Marks of one page, each with its row; a place that the job does not have is none. */
export function marksOn(drawn: readonly DrawnPlace[], page: number, rows: readonly PlaceRow[]): readonly Mark[] {
  const known = new Map(rows.map((row) => [row.name, row]))
  return drawn.flatMap(({ name, x, y, page: on }) => {
    const row = known.get(name)
    return row === undefined || on !== page ? [] : [{ of: row.of, name, x, y, row }]
  })
}

/** The next place of the list that lies on the drawing nowhere, from the one after `from` on; undefined where all do. */
export function nextToPlace(
  rows: readonly PlaceRow[],
  drawn: readonly DrawnPlace[],
  from: string | undefined
): string | undefined {
  const there = new Set(drawn.map(({ name }) => name))
  const start = rows.findIndex(({ name }) => name === from) + 1
  const inTurn = [...rows.slice(start), ...rows.slice(0, start)]
  return inTurn.find(({ name }) => !there.has(name) && name !== from)?.name
}

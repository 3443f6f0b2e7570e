import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { furtherCutFigure, type ReamFigure, reamFigure, type SizedIndication } from '@trueloop/job/evaluate'
import type { Examination } from '@trueloop/job/examine'
import type { ReamRules, Technique } from '@trueloop/job/plan'
import { canonical, type JobState, type JoinedIndication, type PlaceState, type ReamChoice } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { refuse } from './codes.ts'

/** The arithmetic of a clean-up ream, from what the record has of a hole. A person chooses; nothing is written here. */

export interface ReamAsking {
  readonly state: JobState
  readonly place: PlaceState
  /** indications that the cut is to clear; none: a further cut, after a scan that shows nothing any more */
  readonly clears: readonly JoinedIndication[]
  /** the size that the person has named */
  readonly size_mm?: number
}

/**
 * What goes into the record with the choice: the size that the person named, the proposed one, every term and line.
 * Refuses `evaluate/ream-no-rules` where the technique permits no ream, and `decide/no-ream-size`, with the arithmetic,
 * where no size was named: nobody decides on a figure that they have not seen.
 */
export async function reamChoice(archive: Archive, asking: ReamAsking): Promise<Result<ReamChoice>> {
  const rules = await rulesIn(archive, asking.state)
  if (isRefusal(rules)) return rules
  const sized = await sizedIn(archive, asking)
  if (isRefusal(sized)) return sized
  const asked = askedOf(asking, rules)
  const found = sized.length === 0 ? furtherCutFigure(asked) : reamFigure(asked, sized)
  if (rules === undefined) return found as Refusal
  const { lines, next_mm, figure } = told(found)
  if (asking.size_mm === undefined) return noSize(asking.place, lines, next_mm)
  return {
    ...{ trueloop: 'ream/1', chosen_mm: asking.size_mm, rules, lines: [...lines] },
    measured_mm: asked.measured_mm.map((one) => [...one]),
    ...(next_mm === undefined ? {} : { next_mm }),
    ...(figure === undefined ? {} : { figure })
  }
}

async function rulesIn(archive: Archive, { technique }: JobState): Promise<Result<ReamRules | undefined>> {
  if (technique === undefined) return undefined
  const document = await archive.document(technique)
  if (isRefusal(document)) return document
  const read = JSON.parse(document.text) as Technique
  return read.application === 'fastener hole' ? read.reaming : undefined
}

type Asked = Parameters<typeof reamFigure>[0]

function askedOf({ place: { place, loop } }: ReamAsking, rules: ReamRules | undefined): Asked {
  const { name: id, edge_distance_mm, nearest_hole_mm } = place
  const distances = {
    ...(edge_distance_mm === undefined ? {} : { edge_distance_mm }),
    ...(nearest_hole_mm === undefined ? {} : { nearest_hole_mm })
  }
  return { rules, hole: { id, ...distances }, measured_mm: loop?.measured_mm ?? [[]] }
}

interface Told {
  readonly lines: readonly string[]
  readonly next_mm?: number
  readonly figure?: NonNullable<ReamChoice['figure']>
}

/** Without a figure the proposal is to refer, and the reason stands in its place. */
function told(found: Result<ReamFigure>): Told {
  if (isRefusal(found))
    return {
      lines: [`no figure: ${found.found}; needed: ${found.needed}`, 'proposed: refer to engineering, a person decides']
    }
  const { lines, next } = found
  const figure = JSON.parse(canonical(found)) as NonNullable<ReamChoice['figure']>
  return { lines, figure, ...(next === undefined ? {} : { next_mm: next.diameter_mm }) }
}

const noSize = ({ place }: PlaceState, lines: readonly string[], next_mm: number | undefined): Refusal =>
  refuse('decide/no-ream-size', {
    found: `no size for the clean-up ream of hole ${place.name}. ${lines.join('. ')}`,
    needed: 'the size, named by the person who decides and who has read this',
    remedy:
      next_mm === undefined
        ? 'refer it; or name a permitted size with --size and say why with --reason'
        : `say --size ${next_mm}; or name another permitted size with its --reason, or refer it`
  })

/** What is stated of the size of each indication, by every scan that stands; the deepest of them counts. */
async function sizedIn(archive: Archive, { place, clears }: ReamAsking): Promise<Result<readonly SizedIndication[]>> {
  const all: SizedIndication[] = []
  for (const one of clears) {
    const own = await sightingsOf(archive, place, one)
    if (isRefusal(own)) return own
    all.push(...(own.length === 0 ? [seenByNone(one)] : own))
  }
  return all
}

async function sightingsOf(
  archive: Archive,
  { examinations }: PlaceState,
  { id: name, seen }: JoinedIndication
): Promise<Result<readonly SizedIndication[]>> {
  const all: SizedIndication[] = []
  for (const { recording, id } of seen) {
    const by = examinations.find((one) => one.recording === recording && one.standing.standing !== 'voided')
    if (by === undefined) continue
    const document = await archive.document(by.examination)
    if (isRefusal(document)) return document
    const { indications } = JSON.parse(document.text) as Pick<Examination, 'indications'>
    const size = indications.find((each) => each.id === id)?.size
    if (size !== undefined) all.push({ name, size })
  }
  return all
}

/** A size by a set-up that did not hold is none. */
const seenByNone = ({ id: name }: JoinedIndication): SizedIndication => ({
  name,
  size: { depth: 'not known', extent: 'not known', withheld: ['no scan that stands has sized it'] }
})

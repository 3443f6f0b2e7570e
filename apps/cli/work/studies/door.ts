import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { program } from '@trueloop/host/chain'
import { sha256 } from '@trueloop/host/hash'
import { readPlainFile } from '@trueloop/host/sheet'
import {
  againstTrial,
  type Code,
  type FlawKind,
  type ProveWith,
  type Same,
  type StudyResult
} from '@trueloop/job/prove'
import type { Block } from '@trueloop/job/record'
import type { Points } from './points.ts'
import type { RowsFrom } from './table-rows.ts'

/** Where a row stands. */
interface Named {
  readonly row: string
}

type Refused = { readonly refusals: readonly Refusal[] }
/** `isReal` false: a trial says that its flaws were none. Of a table only the study says it. */
export type Rows<Row> = { readonly rows: readonly Row[]; readonly isReal: boolean } | Refused

/** What one kind of study brings: its rows, how it is worked out, and how it reads. One file each. */
export interface StudyFile<Row extends Named, R extends StudyResult> {
  readonly name: string
  readonly kind: R['kind']
  readonly summary: string
  /** the columns of its table, in words */
  readonly table: string
  readonly fromTable: (from: RowsFrom) => Promise<Rows<Row>>
  readonly fromTrial?: (value: unknown, kind: FlawKind | undefined) => Rows<Row>
  readonly prove: (asked: unknown, rows: readonly Row[], by: ProveWith) => Result<R, Code>
  readonly again: (before: R, rows: readonly Row[], by: ProveWith) => Result<Same<R>, Code>
  readonly blocks: (result: R, rows: readonly Row[]) => readonly Block[]
  /** the curve, point by point */
  readonly points?: (result: R) => Points
  /** for the terminal; without it the blocks are told */
  readonly text?: (result: R) => readonly string[]
  /** whether what was asked for is stated: else a person has to look */
  readonly isStated: (result: R) => boolean
}

/** What came out of a study. */
export interface Worked {
  readonly result: StudyResult
  readonly blocks: readonly Block[]
  readonly text: readonly string[] | undefined
  readonly points: Points | undefined
  readonly isStated: boolean
}

/** A study at the door, whatever its rows are. */
export interface StudyDoor extends Pick<StudyFile<never, StudyResult>, 'name' | 'kind' | 'summary' | 'table'> {
  readonly takesTrial: boolean
  readonly hasPoints: boolean
  readonly work: (asked: unknown, from: RowsFrom) => Promise<Worked | Refused>
  readonly again: (before: StudyResult, from: RowsFrom) => Promise<(Worked & { readonly same: boolean }) | Refused>
}

const by = { hash: sha256, program: `${program.name} ${program.version}` }

export function studyDoor<Row extends Named, R extends StudyResult>(file: StudyFile<Row, R>): StudyDoor {
  const { name, kind, summary, table } = file
  const worked = (result: R, rows: readonly Row[]): Worked => ({
    ...{
      result,
      blocks: file.blocks(result, rows),
      text: file.text?.(result),
      points: file.points?.(result),
      isStated: file.isStated(result)
    }
  })
  return {
    ...{ name, kind, summary, table, takesTrial: file.fromTrial !== undefined, hasPoints: file.points !== undefined },
    work: async (asked, from) => {
      const given = await rowsOf(file, from)
      if ('refusals' in given) return given
      const stranger = againstTrial(asked, given.isReal)
      if (stranger !== undefined) return { refusals: [stranger] }
      const result = file.prove(asked, given.rows, by)
      return isRefusal(result) ? { refusals: [inRows(result, given.rows, from)] } : worked(result, given.rows)
    },
    again: async (before, from) => {
      const given = await rowsOf(file, from)
      if ('refusals' in given) return given
      const stranger = againstTrial(before.study, given.isReal)
      if (stranger !== undefined) return { refusals: [stranger] }
      const again = file.again(before as R, given.rows, by)
      return isRefusal(again)
        ? { refusals: [inRows(again, given.rows, from)] }
        : { ...worked(again.result, given.rows), same: again.same }
    }
  }
}

/** What is wrong with a row lies in the file of the rows, not in the study. */
function inRows(refusal: Refusal, rows: readonly Named[], { path: file }: RowsFrom): Refusal {
  const at = refusal.where?.path
  if (!rows.some(({ row }) => row === at)) return refusal
  const line = /^line (\d+)(?:, \d+)?$/.exec(at ?? '')?.[1]
  return { ...refusal, where: { file, ...(line === undefined ? { path: at! } : { line: Number(line) }) } }
}

/** Rows of a table (CSV), or of a closed trial (JSON). Nothing is trusted yet. */
async function rowsOf<Row extends Named, R extends StudyResult>(
  file: StudyFile<Row, R>,
  from: RowsFrom
): Promise<Rows<Row>> {
  if (file.fromTrial === undefined || !/\.json$/i.test(from.path)) return file.fromTable(from)
  const read = await readPlainFile(from.path, {
    needed: 'a closed trial, or a table as CSV',
    remedy: 'name the file that "prove close" wrote'
  })
  if ('refusals' in read) return read
  const closed = file.fromTrial(read.value, from.kind as FlawKind | undefined)
  return 'refusals' in closed ? { refusals: closed.refusals.map(read.place) } : closed
}

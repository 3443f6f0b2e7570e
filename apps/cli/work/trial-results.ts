import { isRefusal, type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import { columnOf, readTable, type Table } from '@trueloop/host/table'
import type { TrialResult } from '@trueloop/job/prove'
import { codes } from '../codes.ts'

const refuse = refuser(codes)

/** Rows that were filled, of any number of files. A row whose `called` is empty was not examined. Refuses: as readTable, cli/no-call, cli/no-signal. */
export async function resultsIn(
  paths: readonly string[]
): Promise<{ readonly results: readonly TrialResult[] } | { readonly refusals: readonly Refusal[] }> {
  const results: TrialResult[] = []
  const refusals: Refusal[] = []
  for (const path of paths) {
    const table = await readTable(path)
    const rows = isRefusal(table) ? [table] : rowsOf(table)
    for (const row of rows)
      if (isRefusal(row)) refusals.push(row)
      else if (row !== undefined) results.push(row)
  }
  return refusals.length > 0 ? { refusals } : { results }
}

function rowsOf(table: Table): readonly Result<TrialResult | undefined>[] {
  const columns = ['inspector', 'site', 'called'].map((name) => columnOf(table, name))
  const bad = columns.find((one) => isRefusal(one))
  if (bad !== undefined && isRefusal(bad)) return [bad]
  const [inspector, site, called] = columns as number[]
  const signal = table.columns.indexOf('signal')
  const at = table.columns.indexOf('at')
  return table.rows.map(({ line, cells }) => {
    const call = cells[called!]!
    if (call === '') return undefined
    if (call !== '0' && call !== '1') return noCall(table.file, line, call)
    const when = at < 0 ? '' : cells[at]!
    const written = signal < 0 ? '' : cells[signal]!
    const value = written === '' ? undefined : Number(written)
    if (value !== undefined && !Number.isFinite(value)) return noSignal(table.file, line, written)
    return {
      ...{ inspector: cells[inspector!]!, site: cells[site!]!, called: call === '1' },
      ...(value === undefined ? {} : { signal: value }),
      ...(when === '' ? {} : { at: when })
    }
  })
}

const noCall = (file: string, line: number, found: string): Refusal =>
  refuse('cli/no-call', {
    found: `"${found}" as a call`,
    needed:
      '1 where an indication was called, 0 where the place was examined and none was, nothing where it was not examined',
    remedy: 'write 1, 0 or nothing',
    where: { file, line }
  })

const noSignal = (file: string, line: number, found: string): Refusal =>
  refuse('cli/no-signal', {
    found: `"${found}" as a signal`,
    needed: 'a number with a point, or nothing',
    remedy: 'write the amplitude in units of the alarm notch',
    where: { file, line }
  })

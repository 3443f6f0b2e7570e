/** Opens a recording: format, columns and rate are settled before the first sample. */
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { refuse } from './codes.ts'
import type { Layout } from './format.ts'
import { type Mapping, USED } from './mapping.ts'
import { rateFor, stampsOf } from './rates.ts'
import type { ScanReader } from './scan.ts'
import { SegmentStream } from './stream.ts'
import { headOf, layoutOf } from './survey.ts'

/**
 * Opens a recording for reading.
 * @param head its first bytes, as given to `survey` (the bytes are pushed again from the first one on)
 * @param mapping from `mappingOf`
 * Refuses what `survey` refuses, and scan/no-such-column, scan/no-rate. Reading refuses scan/no-samples,
 * scan/too-many-bad-rows, scan/all-zero, scan/equal-channels, scan/truncated-header, scan/inconsistent-header.
 */
export function openScan(head: Uint8Array, name: string, mapping: Mapping, size?: number): Result<ScanReader> {
  const decimal = mapping.decimal === undefined ? {} : { decimal: mapping.decimal }
  const file = { ...headOf(head, name, size), ...decimal }
  const known = layoutOf(file)
  if (isRefusal(known)) return known
  const roles = USED.filter((role) => mapping[role] !== undefined)
  const columns = roles.map((role) => mapping[role] as number)
  const absent = columns.find((column) => known.layout.columns[column] === undefined)
  if (absent !== undefined) return noColumn(absent, known.layout, name)
  const stamps = stampsOf(known.layout, mapping)
  const rate = rateFor(known.layout, mapping, stamps)
  if (rate === undefined || !(rate.value > 0 && Number.isFinite(rate.value))) return noRate(name)
  const table = known.format.open(file, columns)
  if (isRefusal(table)) return table
  return new SegmentStream({
    format: known.format.name,
    layout: known.layout,
    file: name,
    mapping,
    roles,
    table,
    stamps,
    rate
  })
}

const noColumn = (column: number, layout: Layout, file: string): Refusal =>
  refuse('scan/no-such-column', {
    found: `column ${column} asked for, ${layout.columns.length} columns there`,
    needed: 'columns that the file has',
    remedy: 'correct the columns',
    where: { file }
  })

const noRate = (file: string): Refusal =>
  refuse('scan/no-rate', {
    found: 'no time column that advances, and no rate above zero stated or in the header',
    needed: 'the sample rate',
    remedy: 'state the rate in the job sheet or by a flag, or name the time column',
    where: { file }
  })

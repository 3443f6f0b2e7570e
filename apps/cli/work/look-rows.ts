import { type Refusal, refuser } from '@trueloop/ground/refusal'
import type { TrialRow } from '@trueloop/job/prove'
import { codes } from '../codes.ts'
import { tableRows } from './studies/table-rows.ts'

const refuse = refuser(codes)

/** Looks at the flaws of a demonstration from a table. Refuses: as tableRows, cli/no-call. */
export async function lookRows(
  path: string
): Promise<{ readonly rows: readonly TrialRow[] } | { readonly refusals: readonly Refusal[] }> {
  const read = await tableRows({ path }, { needed: ['site', 'hit', 'at'], other: [] })
  if ('refusals' in read) return read
  const wrong = read.rows.filter(({ of }) => of.hit !== '0' && of.hit !== '1')
  if (wrong.length > 0) return { refusals: wrong.map(({ row, of }) => noHit(path, row, of.hit ?? '')) }
  return { rows: read.rows.map(({ of }) => ({ site: of.site ?? '', hit: of.hit === '1', at: of.at ?? '' })) }
}

const noHit = (file: string, row: string, found: string): Refusal =>
  refuse('cli/no-call', {
    found: `"${found}" as a hit`,
    needed: '1 where the flaw was found, 0 where it was examined and missed',
    remedy: 'write 1 or 0; leave out what was not examined',
    where: { file, line: Number(row.replace('line ', '')) }
  })

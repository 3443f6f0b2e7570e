import type { Refusal } from '@trueloop/ground/refusal'
import { type Code, refuse } from '../codes.ts'
import { measuredOf } from '../preparation.ts'
import type { RegisterRow, RowOf } from '../registers/index.ts'
import type { Sheet } from '../sheet.ts'
import { pathText, type Step } from '../where.ts'
import type { Use } from './uses.ts'

/** Where a job sheet says otherwise of a thing than its row in the register, which is what the certificate was read into. */

interface Difference {
  readonly steps: readonly Step[]
  readonly found: string
  readonly needed: string
}

/** Refuses `plan/register-differs`; undefined where the sheet says the same, or nothing. */
export function differing(sheet: Sheet, use: Use, row: RegisterRow): Refusal<Code> | undefined {
  const other = differenceIn(sheet, use, row)
  if (other === undefined) return undefined
  return refuse('plan/register-differs', {
    found: `${other.found}, for ${use.what} "${use.name}"`,
    needed: `${other.needed}, as the register has it`,
    remedy: 'correct the job sheet; where the register is wrong or behind, register the row again',
    where: { path: pathText(other.steps) }
  })
}

function differenceIn(sheet: Sheet, use: Use, row: RegisterRow): Difference | undefined {
  switch (row.register) {
    case 'procedure':
      return revision(sheet, row)
    case 'person':
      return level(sheet, row)
    case 'reference standard':
      return standard(sheet, row)
    case 'gauge':
      return doubt(sheet, use, row)
    default:
      return undefined
  }
}

function revision({ technique: { procedure } }: Sheet, row: RowOf<'procedure'>): Difference | undefined {
  if (procedure.revision === row.revision) return undefined
  const steps = ['technique', 'procedure', 'revision']
  return { steps, found: `revision ${procedure.revision}`, needed: `revision ${row.revision}` }
}

function level({ people }: Sheet, row: RowOf<'person'>): Difference | undefined {
  const index = people.findIndex(({ name }) => name === row.name)
  const said = people[index]?.level
  if (said === undefined || said === row.level) return undefined
  return { steps: ['people', index, 'level'], found: `level ${said}`, needed: `level ${row.level}` }
}

/** What a job says of a standard beside what its certificate says. */
const ofTheJob: readonly string[] = ['demagnetized', 'certificate']

function standard(sheet: Sheet, row: RowOf<'reference standard'>): Difference | undefined {
  if (!('reference_standard' in sheet)) return undefined
  const said = plain(sheet.reference_standard)
  const known = plain(row.standard)
  const keys = [...new Set([...said.keys(), ...known.keys()])].filter((key) => !ofTheJob.includes(key))
  const key = keys.find((one) => said.get(one) !== known.get(one))
  if (key !== undefined) {
    const text = (of: ReadonlyMap<string, string>) => `${key} ${of.get(key) ?? 'not stated'}`
    return { steps: ['reference_standard', key], found: text(said), needed: text(known) }
  }
  return certificate(sheet.reference_standard, row)
}

const plain = (value: object): ReadonlyMap<string, string> =>
  new Map(Object.entries(value).map(([key, one]) => [key, sortedText(one)]))

/** JSON with the keys of every object in order. */
const sortedText = (value: unknown): string =>
  JSON.stringify(value, (_, one) =>
    typeof one === 'object' && one !== null && !Array.isArray(one)
      ? Object.fromEntries(Object.entries(one).sort(([a], [b]) => (a < b ? -1 : 1)))
      : one
  )

function certificate(said: { readonly certificate?: string | undefined }, row: RowOf<'reference standard'>) {
  const known = [row.certificate.number, row.standard.certificate]
  if (said.certificate === undefined || known.includes(said.certificate)) return undefined
  const steps = ['reference_standard', 'certificate']
  return { steps, found: `certificate ${said.certificate}`, needed: `certificate ${row.certificate.number}` }
}

/** Who takes a gauge for better than its certificate takes a hole for better known than it is. */
function doubt(sheet: Sheet, { steps, name }: Use, row: RowOf<'gauge'>): Difference | undefined {
  if (!('holes' in sheet)) return undefined
  const index = sheet.holes.findIndex(({ preparation }) => {
    const measured = measuredOf(preparation)
    return measured?.gauge === name && measured.gauge_uncertainty_mm < row.uncertainty_mm
  })
  if (index < 0) return undefined
  const said = measuredOf(sheet.holes[index]?.preparation)?.gauge_uncertainty_mm
  return {
    steps: ['holes', index, ...steps.slice(2, -1), 'gauge_uncertainty_mm'],
    found: `an uncertainty of ${said} mm`,
    needed: `at least ${row.uncertainty_mm} mm`
  }
}

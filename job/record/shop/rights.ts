import type { Refusal } from '@trueloop/ground/refusal'
import type { PersonRow, RegisterName } from '../../plan/index.ts'
import { type Code as RecordCode, refuse as refuseEntry } from '../codes.ts'
import { type Code, refuse } from './codes.ts'
import type { ShopEntry } from './kinds.ts'

/** Who may write what into the registers: people, procedures and reference standards are a Level III's (common practice, no source). */

const levels: Readonly<Record<RegisterName, readonly PersonRow['level'][]>> = {
  person: ['III'],
  procedure: ['III'],
  'reference standard': ['III'],
  instrument: ['II', 'III'],
  probe: ['II', 'III'],
  gauge: ['II', 'III']
}

/** Running the shipped set is work of a Level II; what follows from it for techniques is a Level III's. */
function levelsFor(entry: ShopEntry): readonly PersonRow['level'][] {
  if (entry.kind === 'installation-validated') return ['II', 'III']
  return 'what' in entry ? levels[entry.what] : ['III']
}

const matterOf = (entry: ShopEntry): string =>
  'what' in entry ? `${entry.what} "${entry.name}"` : `an entry of kind "${entry.kind}"`

/** Refuses `record/no-right` and `shop/same-person`. */
export function rightComplaint(entry: ShopEntry, { name, level }: PersonRow): Refusal<Code | RecordCode> | undefined {
  if (entry.kind === 'key-replaced' && entry.name === name) return samePerson(name)
  const allowed = levelsFor(entry)
  if (allowed.includes(level)) return undefined
  return refuseEntry('record/no-right', {
    found: `${name}, level ${level}, for ${matterOf(entry)}`,
    needed: `level ${allowed.join(' or ')}`,
    remedy: 'let a person sign who may'
  })
}

const samePerson = (name: string): Refusal<Code> =>
  refuse('shop/same-person', {
    found: `a new key of ${name}, signed by ${name}`,
    needed: 'the signature of another person of Level III: whoever holds a lost key could else put one in its place',
    remedy: 'let a second person of Level III sign'
  })

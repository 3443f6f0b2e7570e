import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { acceptedIn, type EntryRow, type ShopEntryOf, validationsIn } from '@trueloop/job/record'
import { program } from '../chain/index.ts'
import { appendStated, readShop, type Stating } from '../shop/index.ts'
import { machine, methods, type Validation } from './validate.ts'

/** A validation that a person has signed into the shop's record. */
export interface SignedValidation {
  readonly by: string
  readonly level: string
  /** time and hash of the entry, and the document that it names */
  readonly time: string
  readonly hash: string
  readonly document: string
}

/** Signs what came out, held or not. Refuses what the record of the shop and the archive refuse. */
export async function signValidation(validation: Validation, stating: Stating): Promise<Result<SignedValidation>> {
  const shop = await readShop(stating.archive)
  if (isRefusal(shop)) return shop
  const document = await stating.archive.storeDocument('validation', validation)
  if (isRefusal(document)) return document
  const { program: of, machine: on, holds: passed } = validation
  const said = { program: of, platform: on.system, methods: validation.methods, passed }
  const draft = { kind: 'installation-validated', document, ...said } as const
  const rows = await appendStated(shop, [draft], stating)
  if (isRefusal(rows)) return rows
  const row = rows.at(-1) as EntryRow
  const { at, by } = JSON.parse(row.body) as ShopEntryOf<'installation-validated'>
  return { by: by.name, level: stating.signer.row.level, time: at.time, hash: row.hash, document }
}

/** What became of accepting a method. */
export interface MethodAccepted {
  readonly application: ShopEntryOf<'method-accepted'>['application']
  readonly method: number
  readonly added: boolean
}

/**
 * Accepts the method of this program for an application, after the last validation on this machine. Refuses
 * `shop/not-validated` and what the record of the shop refuses.
 */
export async function acceptMethod(
  application: MethodAccepted['application'],
  stating: Stating
): Promise<Result<MethodAccepted>> {
  const shop = await readShop(stating.archive)
  if (isRefusal(shop)) return shop
  const method = methods[application]
  const { name } = stating.signer.row
  const isThere = acceptedIn(shop.rows).some(
    (one) => one.application === application && one.method === method && one.by === name
  )
  if (isThere) return { application, method, added: false }
  const validation = validationsIn(shop.rows).findLast(
    (one) => one.platform === machine.system && one.program.version === program.version
  )
  const draft = { kind: 'method-accepted', application, method, validation: validation?.id ?? 'none' } as const
  const rows = await appendStated(shop, [draft], stating)
  return isRefusal(rows) ? rows : { application, method, added: true }
}

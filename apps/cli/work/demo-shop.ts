import { isRefusal, type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { type ChainInput, openJob } from '@trueloop/host/chain'
import { today } from '@trueloop/host/clock'
import { approveTechnique } from '@trueloop/host/decide'
import { type Cost, keyFileOf, makeKey, type Signer } from '@trueloop/host/keys'
import { readShop, registerRows, type Shop } from '@trueloop/host/shop'
import { keysFolder, openKey, registeredPerson } from '@trueloop/host/signing'
import { heldOn, nameOfRow, type PersonRow, type RegisterRow } from '@trueloop/job/plan'
import { replay } from '@trueloop/job/record'
import { demoPassphrase, demoPeople, demoRegisters } from '@trueloop/job/rehearse'
import { codes } from '../codes.ts'
import { withArchive } from './archive.ts'

const refuse = refuser(codes)

/** Whether anybody can sign in the demonstration. */
export type DemoShop = 'people' | 'no people'

/** What a guess at a passphrase costs that everybody is told: the least that a key may have. */
const cost: Cost = { N: 2 ** 14, r: 8, p: 1 }

/**
 * Gives the demonstration its invented people, once: keys, registers, the job opened and its technique approved. Where
 * jobs of other people lie in the archive it goes on without: registers would ask for signatures in the next of them.
 * Refuses cli/own-registers, and what keys and registers refuse.
 */
export const makeDemoShop = (home: string, input: Omit<ChainInput, 'archive'>): Promise<Result<DemoShop>> =>
  withArchive(async (archive) => {
    const shop = await readShop(archive)
    if (isRefusal(shop)) return shop
    const jobs = await archive.jobs()
    if (isRefusal(jobs)) return jobs
    const { job } = input.sheet
    if (shop.rows.length === 0 && jobs.some(({ id }) => id !== job.id)) return 'no people'
    return (await opened(archive, { home, input, shop })) ?? 'people'
  }, home)

interface Making {
  readonly home: string
  readonly input: Omit<ChainInput, 'archive'>
  readonly shop: Shop
}

async function opened(archive: Archive, { home, input, shop }: Making): Promise<Refusal | undefined> {
  const no = shop.rows.length === 0 ? await register(archive, home) : await complete(archive, home, shop)
  if (no !== undefined) return no
  const job = await openJob({ ...input, archive })
  if (isRefusal(job)) return job
  const rows = await archive.entries(job.job)
  if (isRefusal(rows)) return rows
  const { opened, confirmed } = replay(rows)
  if (opened.signing !== 'required' || confirmed !== undefined) return undefined
  const signer = await signerIn(archive, home)
  if (isRefusal(signer)) return signer
  const approved = await approveTechnique(today(), { archive, job: job.job, signer })
  return isRefusal(approved) ? approved : undefined
}

const [three] = demoPeople

const othersIn = ({ registers }: Shop, home: string): Refusal | undefined =>
  'registered' in heldOn(registers, { what: 'person', name: three.name }, today()) ? undefined : ownRegisters(home)

/** What a demonstration of an earlier version did not use yet is registered now. */
async function complete(archive: Archive, home: string, shop: Shop): Promise<Refusal | undefined> {
  const no = othersIn(shop, home)
  if (no !== undefined) return no
  const isMissing = (row: RegisterRow) =>
    row.register !== 'person' &&
    heldOn(shop.registers, { what: row.register, name: nameOfRow(row) }, today()).state === 'not registered'
  const missing = demoRegisters([]).filter(isMissing)
  if (missing.length === 0) return undefined
  const signer = await signerIn(archive, home)
  if (isRefusal(signer)) return signer
  const done = await registerRows(missing, { archive, signer })
  return isRefusal(done) ? done : undefined
}

/** All rows at once. Keys that a stopped run has left are taken as they are. */
async function register(archive: Archive, home: string): Promise<Refusal | undefined> {
  const keys: string[] = []
  for (const { name } of demoPeople) {
    const place = { folder: keysFolder(home), name }
    const before = await keyFileOf(place)
    const key = isRefusal(before) ? await makeKey(place, demoPassphrase, { cost }) : before.file.public
    if (isRefusal(key)) return key
    keys.push(key)
  }
  const rows = demoRegisters(keys)
  const signer = await signerIn(archive, home, rows)
  if (isRefusal(signer)) return signer
  const done = await registerRows(rows, { archive, signer })
  return isRefusal(done) ? done : undefined
}

/** The Level III: as registered, or as about to register themself. */
async function signerIn(archive: Archive, home: string, rows: readonly RegisterRow[] = []): Promise<Result<Signer>> {
  const own = rows.find((row): row is PersonRow => row.register === 'person' && row.name === three.name)
  if (own === undefined) {
    const found = await registeredPerson(three.name, archive)
    return isRefusal(found) ? found : openKey(found, { home, passphrase: demoPassphrase })
  }
  const document = await archive.storeDocument('person', own)
  return isRefusal(document) ? document : openKey({ row: own, document }, { home, passphrase: demoPassphrase })
}

const ownRegisters = (home: string): Refusal =>
  refuse('cli/own-registers', {
    found: 'registers of a shop in the data folder of the demonstration',
    needed: 'a data folder of its own: the people of the demonstration are invented',
    remedy: 'leave TRUELOOP_HOME unset for the demonstration, or let it name an empty folder',
    where: { file: home }
  })

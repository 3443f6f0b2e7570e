import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result, sentence } from '@trueloop/ground/refusal'
import { acceptedIn, canonical } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { type Archive, openArchive } from '../archive/index.ts'
import type { Signer } from '../keys/index.ts'
import { signerOf } from '../keys/testing/index.ts'
import { checkShop, readShop, registerRows } from '../shop/index.ts'
import { acceptMethod, printed, signValidation, type Validation } from './index.ts'
import { machine, methods } from './validate.ts'

/** Oracles: SHA-256 of the file inside the PDF, by Node; the rules of the shop's record; pdfdetach. */

const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(sentence(result))
  return result as T
}
const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')
const clock = () => ({ time: '2026-03-14T08:00:00Z', known: 'clock of this computer' as const })

const [three, two] = [signerOf('C. Level', 'III'), signerOf('B. Two', 'II')]

/** Made by hand: nothing was run for it. */
const validation = (holds: boolean): Validation => ({
  ...{ kind: 'validation', version: 1, at: clock(), program: { name: 'Trueloop', version: '0.1.0' }, methods, machine },
  ...{
    files: [],
    checks: [{ name: 'a check', needed: '1', found: holds ? '1' : '2', holds, source: 'invented' }],
    holds
  }
})

let folder = ''
let archive: Archive
const by = (signer: Signer) => ({ archive, clock, signer })

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-signed-validation-'))
  archive = got(await openArchive(join(folder, 'archive')))
  got(await registerRows([three.row, two.row], by(three)))
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true, force: true })
})

describe('a validation that a person signs', () => {
  it('stands in the record of the shop, which is whole with it', async () => {
    const signed = got(await signValidation(validation(true), by(two)))
    const { rows } = got(await readShop(archive))
    expect(rows.at(-1)).toMatchObject({ kind: 'installation-validated', hash: signed.hash })
    expect(got(await archive.document(signed.document)).text).toBe(canonical(validation(true)))
    expect(got(await checkShop(archive))).toEqual([])
  })

  it('lets a Level III accept the methods of this program, once each; one that failed lets nobody', async () => {
    expect(codeOf(await acceptMethod('weld', by(three)))).toBe('shop/not-validated')
    got(await signValidation(validation(false), by(two)))
    expect(codeOf(await acceptMethod('weld', by(three)))).toBe('shop/not-validated')
    got(await signValidation(validation(true), by(two)))
    expect(codeOf(await acceptMethod('weld', by(two)))).toBe('record/no-right')
    expect(got(await acceptMethod('weld', by(three)))).toEqual({
      application: 'weld',
      method: methods.weld,
      added: true
    })
    expect(got(await acceptMethod('weld', by(three))).added).toBe(false)
    expect(acceptedIn(got(await readShop(archive)).rows)).toHaveLength(1)
    expect(got(await checkShop(archive))).toEqual([])
  })
})

needsTool('pdfdetach', 'the record of a validation as PDF', (program) => {
  it('has the very record inside that was signed, and says by whom', async () => {
    const signed = got(await signValidation(validation(true), by(two)))
    const { page, pdf } = printed(validation(true), signed)
    expect(JSON.stringify(page.blocks)).toContain('Signed by B. Two, Level II')
    expect(JSON.stringify(printed(validation(true)).page.blocks)).toContain('Not signed')
    const [path, out] = [join(folder, 'validation.pdf'), join(folder, 'validation.json')]
    writeFileSync(path, got(await pdf()))
    execFileSync(program, ['-savefile', 'validation.json', '-o', out, path], { stdio: 'ignore' })
    expect(createHash('sha256').update(readFileSync(out)).digest('hex')).toBe(signed.document)
  }, 60_000)
})

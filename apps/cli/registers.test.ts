/** Oracles: the rules of the registers as they are written; a terminal that is none, typed into by hand. */
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { PassThrough } from 'node:stream'
import { isRefusal, type Refusal, type Result, sentence } from '@trueloop/ground/refusal'
import { type Archive, openArchive } from '@trueloop/host/archive'
import { holds, makeKey, unlock } from '@trueloop/host/keys'
import { readRowsFile, readSheetText } from '@trueloop/host/sheet'
import { checkShop, registerRows, strikeOff } from '@trueloop/host/shop'
import { keysFolder, openKey, registeredPerson, signerFor } from '@trueloop/host/signing'
import { type PersonRow, rowsJsonSchema } from '@trueloop/job/plan'
import { canonical } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { archiveFolder } from './home.ts'
import { askHidden, canType, type Typing } from './terminal/hidden.ts'
import { listData, listText } from './terminal/registers.ts'
import { chosenPassphrase, newPassphrase, ownPassphrase, passphraseOf } from './work/passphrase.ts'
import { registerFile } from './work/registering.ts'
import { tellDue } from './work/signer.ts'

const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(sentence(result))
  return result as T
}
const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')

let home = ''
beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'trueloop-registers-'))
})
afterEach(() => {
  vi.unstubAllEnvs()
  rmSync(home, { recursive: true, force: true })
})

const written = (name: string, text: string): string => {
  const path = join(home, name)
  writeFileSync(path, text)
  return path
}

function typist() {
  const input = Object.assign(new PassThrough(), { isTTY: true, setRawMode: vi.fn() })
  const output = new PassThrough()
  const shown: string[] = []
  output.on('data', (bytes: Buffer) => shown.push(bytes.toString()))
  return { typing: { input, output } as unknown as Typing, input, shown }
}

describe('what is typed for no eyes', () => {
  it.each([
    ['Prüfung 7\r', 'Prüfung 7'],
    ['wrong\u0015right\n', 'right'],
    ['ab😀\u007fc\tx\r', 'abcx'],
    ['\r', '']
  ])('%j is %j, and nothing of it is shown', async (typed, expected) => {
    const { typing, input, shown } = typist()
    const asked = askHidden('passphrase: ', typing)
    for (const byte of Buffer.from(typed)) input.write(Buffer.from([byte]))
    expect(await asked).toBe(expected)
    expect(shown.join('')).toBe('passphrase: \n')
    expect(input.setRawMode.mock.calls).toEqual([[true], [false]])
  })

  it('ends by Ctrl-C as anything else does', async () => {
    const { typing, input } = typist()
    const interrupted = vi.fn()
    process.once('SIGINT', interrupted)
    const asked = askHidden('passphrase: ', typing)
    input.write('abc\u0003')
    await expect(asked).rejects.toThrow('interrupted')
    expect(interrupted).toHaveBeenCalledOnce()
  })
})

describe('a passphrase', () => {
  const long = 'correct horse battery'

  it('comes from the first line of a file, before the environment', async () => {
    vi.stubEnv('TRUELOOP_PASSPHRASE', long)
    expect(await passphraseOf('A', ownPassphrase(written('p', 'from the file\r\nnot this')))).toBe('from the file')
    expect(await passphraseOf('A', ownPassphrase())).toBe(long)
    expect(codeOf(await passphraseOf('A', ownPassphrase(join(home, 'none'))))).toBe('cli/unreadable-file')
  })

  it('that is new has a variable of its own, and is not short', async () => {
    vi.stubEnv('TRUELOOP_PASSPHRASE', long)
    vi.stubEnv('TRUELOOP_NEW_PASSPHRASE', 'another horse')
    expect(await chosenPassphrase('A', newPassphrase())).toBe('another horse')
    vi.stubEnv('TRUELOOP_NEW_PASSPHRASE', 'short')
    expect(codeOf(await chosenPassphrase('A', newPassphrase()))).toBe('keys/short-passphrase')
  })

  it('is asked for in a terminal alone', async () => {
    expect(canType()).toBe(false)
    vi.stubEnv('TRUELOOP_PASSPHRASE', '')
    expect(codeOf(await passphraseOf('A', ownPassphrase()))).toBe('cli/no-passphrase')
    expect(codeOf(await chosenPassphrase('A', ownPassphrase()))).toBe('cli/no-passphrase')
  })

  it.each([
    ['first passphrase', 'other passphrase', 'cli/passphrases-differ'],
    ['first passphrase', 'first passphrase', 'no refusal'],
    ['short', 'short', 'keys/short-passphrase']
  ])('that is chosen is typed twice: %s, %s', async (first, second, code) => {
    const { typing, input, shown } = typist()
    const chosen = chosenPassphrase('A', ownPassphrase(), typing)
    input.write(`${first}\r`)
    setTimeout(() => input.write(`${second}\r`), 20)
    expect(codeOf(await chosen)).toBe(code)
    expect(shown.join('')).not.toContain(first)
  })
})

const passphrase = 'correct horse battery'
const cheap = { cost: { N: 1 << 14, r: 8, p: 1 } }

async function inArchive<T>(work: (archive: Archive) => Promise<T>): Promise<T> {
  const archive = got(await openArchive(archiveFolder(home)))
  try {
    return await work(archive)
  } finally {
    await archive.close()
  }
}

const rowOf = (name: string, key: string, level: PersonRow['level'] = 'III'): PersonRow => ({
  ...{ register: 'person', version: 1, name, method: 'eddy current', level },
  certificate: { number: `ET-${name}`, issued: '2024-02-01', expires: '2199-01-31' },
  near_vision: { examined: '2026-01-10', expires: '2198-12-31' },
  key: { kind: 'Ed25519', public: key }
})

/** A person registered with a key that is cheap to open. */
async function registered(name = 'C. Level', level: PersonRow['level'] = 'III') {
  const row = rowOf(name, got(await makeKey({ folder: keysFolder(home), name }, passphrase, cheap)), level)
  await inArchive(async (archive) => {
    const document = got(await archive.storeDocument('person', row))
    const signer = got(await openKey({ row, document }, { home, passphrase }))
    got(await registerRows([row], { archive, signer }))
  })
  return row
}

describe('who signs', () => {
  it('stands in the register, is in force, and their key opens', async () => {
    const row = await registered()
    await inArchive(async (archive) => {
      const { signer } = got(await signerFor('C. Level', archive, { home, passphrase }))
      expect(signer.row).toEqual(row)
      expect(holds(row.key.public, 'text', signer.sign('text'))).toBe(true)
      expect(got(await archive.document(signer.person)).text).toBe(canonical(row))
    })
  })

  it.each<[string, { day?: string; name?: string; passphrase?: string }, string]>([
    ['is not registered', { name: 'D. Level' }, 'signing/not-registered'],
    ['expired', { day: '2199-01-01' }, 'signing/person-expired'],
    ['is not yet in force', { day: '2025-12-31' }, 'signing/person-expired'],
    ['has another passphrase', { passphrase: 'not this one 12' }, 'keys/wrong-passphrase']
  ])('does not where that person %s', async (_, { name = 'C. Level', ...change }, code) => {
    await registered()
    await inArchive(async (archive) => {
      expect(codeOf(await signerFor(name, archive, { home, passphrase, ...change }))).toBe(code)
    })
  })

  it('does not where nobody is registered, or the key was lost', async () => {
    expect(codeOf(await inArchive((archive) => registeredPerson('C. Level', archive)))).toBe('signing/not-registered')
    await registered()
    rmSync(keysFolder(home), { recursive: true })
    expect(codeOf(await inArchive((archive) => signerFor('C. Level', archive, { home, passphrase })))).toBe(
      'keys/no-key'
    )
  })

  it('does not after being struck off', async () => {
    await registered()
    await inArchive(async (archive) => {
      const { signer } = got(await signerFor('C. Level', archive, { home, passphrase }))
      const name = 'A. Sample'
      const row = rowOf(name, got(await makeKey({ folder: keysFolder(home), name }, passphrase, cheap)), 'II')
      got(await registerRows([row], { archive, signer }))
      got(await signerFor(name, archive, { home, passphrase }))
      got(await strikeOff({ what: 'person', name, from: '2026-01-01', reason: 'left' }, { archive, signer }))
      expect(codeOf(await signerFor(name, archive, { home, passphrase }))).toBe('signing/not-registered')
    })
  })

  it('is told what falls due within a month', async () => {
    await registered()
    const write = vi.spyOn(process.stderr, 'write').mockImplementation(() => true)
    try {
      await inArchive(async (archive) =>
        tellDue('C. Level', got(await signerFor('C. Level', archive, { home, passphrase, day: '2198-12-02' })))
      )
      expect(write.mock.calls.flat().join('')).toBe(
        'near vision of C. Level falls due: last day 2198-12-31, in 29 days\n'
      )
      write.mockClear()
      await inArchive(async (archive) =>
        tellDue('C. Level', got(await signerFor('C. Level', archive, { home, passphrase, day: '2198-11-30' })))
      )
      expect(write).not.toHaveBeenCalled()
    } finally {
      write.mockRestore()
    }
  })
})

const person = (name: string, level: string, more = '') => `
  - name: ${name}
    level: ${level}
    certificate: { number: ET-${name}, issued: 2024-02-01, expires: 2199-01-31 }
    near_vision: { examined: 2026-01-10, expires: 2198-12-31 }${more}`

const registering = async (text: string, as = 'C. Level') => {
  const file = await readRowsFile(written('rows.yaml', `trueloop: registers/1\n${text}`))
  if ('refusals' in file) throw new Error(file.refusals.map(sentence).join('\n'))
  return registerFile({ home, as, ...file })
}

describe('a file of rows', () => {
  beforeEach(() => vi.stubEnv('TRUELOOP_PASSPHRASE', passphrase))

  it('begins the registers with the person who signs, whose key is made', async () => {
    got(await registering(`people:${person('C. Level', 'III')}`))
    expect(readdirSync(keysFolder(home))).toHaveLength(1)
    expect(codeOf(await unlock({ folder: keysFolder(home), name: 'C. Level' }, passphrase))).toBe('no refusal')
    expect(got(await inArchive(checkShop))).toEqual([])
    // again, with a changed row: the key stays as it is registered
    const again = `people:${person('C. Level', 'III').replace('2198-12-31', '2198-12-30')}`
    expect(got(await registering(again)).added).toHaveLength(1)
    expect(got(await registering(again)).unchanged).toHaveLength(1)
  }, 30_000)

  it('registers another person with the key that they made, and says at which line it is missing', async () => {
    await registered()
    const both = `people:${person('C. Level', 'III')}${person('A. Sample', 'II')}`
    const no = (await registering(both)) as Refusal
    expect(codeOf(no)).toBe('cli/no-key')
    expect(no.where).toMatchObject({ line: 7, path: 'people[1]' })
    const folder = keysFolder(home)
    const key = got(await makeKey({ folder, name: 'A. Sample' }, passphrase, cheap))
    expect(got(await registering(both)).added.map(({ name }) => name)).toContain('A. Sample')
    const found = await inArchive((archive) => registeredPerson('A. Sample', archive))
    expect(got(found).row.key.public).toBe(key)
  })

  it('is refused as a whole where one row may not be registered', async () => {
    await registered('B. Sample', 'III')
    const folder = keysFolder(home)
    got(await makeKey({ folder, name: 'C. Level' }, passphrase, cheap))
    const rows = `people:${person('C. Level', 'III')}`
    expect(codeOf(await registering(rows))).toBe('signing/not-registered')
    expect(codeOf(await registering(rows, 'Nobody'))).toBe('keys/no-key')
  })

  it.each<[string, string, string, number]>([
    ['dates reversed', person('C. Level', 'III').replace('2199-01-31', '2023-01-31'), 'plan/dates-out-of-order', 5],
    ['a level that is none', person('C. Level', 'IV'), 'plan/bad-value', 4],
    ['an unknown key', person('C. Level', 'III', '\n    phone: 1'), 'plan/unknown-key', 7]
  ])('with %s is refused at its line', async (_, rows, code, line) => {
    const file = await readRowsFile(written('rows.yaml', `trueloop: registers/1\npeople:${rows}`))
    expect('refusals' in file && file.refusals.map((one) => [one.code, one.where?.line])).toEqual([[code, line]])
  })

  it.each([
    ['none.yaml', 'sheet/no-file'],
    ['empty.yaml', 'sheet/empty'],
    ['broken.yaml', 'sheet/not-yaml']
  ])('%s is refused: %s', async (name, code) => {
    written('empty.yaml', '')
    written('broken.yaml', 'a: [')
    const file = await readRowsFile(join(home, name))
    expect('refusals' in file && file.refusals[0]).toMatchObject({
      code,
      needed: 'a file of rows for the registers, YAML or JSON in UTF-8'
    })
    expect('refusals' in readSheetText('', 'job.yaml')).toBe(true)
  })

  it('has a JSON Schema', () => expect(rowsJsonSchema()).toMatchObject({ title: 'Registers' }))
})

describe('the list', () => {
  const probe = (serial: string, expires?: string) => ({
    row: {
      ...{ register: 'probe' as const, version: 1 as const, serial, type: 'differential' },
      coil: { width_mm: 1, frequency_kHz: { least: 1, most: 9 } },
      ...(expires === undefined ? {} : { expires })
    },
    document: serial,
    seq: 0
  })
  const registers = {
    registered: [probe('P-1', '2026-03-20'), probe('P-2', '2026-03-13'), probe('P-3'), probe('P-4', '2026-03-14')],
    struckOff: [{ what: 'probe' as const, name: 'P-3', from: '2026-03-01', reason: 'worn', seq: 1 }]
  }

  it('begins with what has expired, then with what falls due, then has everything', () => {
    expect(listText(listData(registers, '2026-03-14'))).toEqual([
      'on 2026-03-14:',
      '  EXPIRED: time of use of probe P-2, last day 2026-03-13 (1 day ago)',
      '  falls due: time of use of probe P-4, last day 2026-03-14 (today)',
      '  falls due: time of use of probe P-1, last day 2026-03-20 (in 6 days)',
      '',
      'register  name  state       until',
      'probe     P-1   falls due   time of use to 2026-03-20',
      'probe     P-2   expired     time of use to 2026-03-13',
      'probe     P-3   struck off',
      'probe     P-4   falls due   time of use to 2026-03-14'
    ])
  })

  it('says what it means that there is none', () =>
    expect(listText(listData({ registered: [], struckOff: [] }, '2026-03-14'))[0]).toBe(
      'no registers in this archive: people and equipment are what the job sheets say'
    ))
})

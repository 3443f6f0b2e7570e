/** Oracles: the printed vectors of the standards (`reference/`), and OpenSSL's own command line. */
import { execFileSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result, sentence } from '@trueloop/ground/refusal'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { keyFrom, publicOf, signatureOf } from './ed25519.ts'
import { seal, unseal } from './envelope.ts'
import { changePassphrase, checkPassphrase, cost, holds, keyFileOf, makeKey, unlock } from './index.ts'
import ed25519 from './reference/ed25519.json' with { type: 'json' }
import gcm from './reference/gcm.json' with { type: 'json' }
import scrypt from './reference/scrypt.json' with { type: 'json' }
import { isCost, stretch } from './stretch.ts'

const hex = (text: string): Uint8Array => Buffer.from(text, 'hex')
const hexOf = (bytes: Uint8Array): string => Buffer.from(bytes).toString('hex')
const base64Of = (text: string): string => Buffer.from(text, 'hex').toString('base64')
const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(sentence(result))
  return result as T
}
const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')

describe('signatures', () => {
  it.each(ed25519.cases)('are those of RFC 8032, $name', ({ secret, public: half, message, signature }) => {
    const key = keyFrom(hex(secret))
    expect(hexOf(publicOf(key))).toBe(half)
    expect(hexOf(signatureOf(key, hex(message)))).toBe(signature)
  })

  const texts = ed25519.cases.slice(0, 2).map((one) => ({
    ...{ name: one.name, text: Buffer.from(one.message, 'hex').toString('utf8') },
    ...{ half: base64Of(one.public), signature: base64Of(one.signature) }
  }))

  it.each(texts)('hold for the texts of RFC 8032 alone, $name', ({ text, half, signature }) => {
    expect(holds(half, text, signature)).toBe(true)
    expect(holds(half, `${text}x`, signature)).toBe(false)
    const turned = Buffer.from(signature, 'base64').map((byte, at) => (at === 40 ? byte ^ 1 : byte))
    expect(holds(half, text, Buffer.from(turned).toString('base64'))).toBe(false)
    expect(holds(half.slice(4), text, signature)).toBe(false)
    expect(holds(half, text, signature.slice(4))).toBe(false)
  })
})

describe('the cost of a guess', () => {
  it.each(scrypt.cases)('is that of RFC 7914 for "$passphrase"', async ({ passphrase, salt, key, ...work }) => {
    expect(hexOf(await stretch(passphrase, Buffer.from(salt), work))).toBe(key)
  })

  it('is at least what is advised for stored passwords', () => {
    expect(cost).toEqual({ N: 131_072, r: 8, p: 1 })
    expect(isCost(cost)).toBe(true)
  })

  it.each([
    { N: 1 << 13, r: 8, p: 1 },
    { N: 100_000, r: 8, p: 1 },
    { N: 1 << 22, r: 8, p: 1 },
    { N: 1 << 17, r: 0, p: 1 },
    { N: 1 << 17, r: 8, p: 17 },
    { N: Number.NaN, r: 8, p: 1 }
  ])('is not worked where it is $N, $r, $p', (work) => expect(isCost(work)).toBe(false))
})

describe('the envelope', () => {
  it.each(gcm.cases)('is that of the GCM submission, $name', ({ key, nonce, beside, secret, sealed, tag }) => {
    const locking = { key: hex(key), nonce: hex(nonce), beside: hex(beside) }
    const box = seal(hex(secret), locking)
    expect([hexOf(box.sealed), hexOf(box.tag)]).toEqual([sealed, tag])
    expect(hexOf(unseal(box, locking) ?? hex('ff'))).toBe(secret)
    expect(unseal({ ...box, tag: hex('00'.repeat(16)) }, locking)).toBeUndefined()
    expect(unseal(box, { ...locking, beside: hex('01') })).toBeUndefined()
  })
})

let folder = ''
beforeEach(() => {
  folder = join(mkdtempSync(join(tmpdir(), 'trueloop-keys-')), 'keys')
})
afterEach(() => rmSync(join(folder, '..'), { recursive: true, force: true }))

const passphrase = 'correct horse battery staple'
/** cheaper, so that the tests are quick; one test takes the real cost */
const cheap = { cost: { N: 1 << 14, r: 8, p: 1 } }
const name = 'C. Level'
const place = () => ({ folder, name })
const make = () => makeKey(place(), passphrase, cheap)
const onlyFile = () => join(folder, readdirSync(folder)[0] ?? '')
function spoil(change: (file: Record<string, unknown>) => Record<string, unknown>): void {
  writeFileSync(onlyFile(), JSON.stringify(change(JSON.parse(readFileSync(onlyFile(), 'utf8')))))
}

describe('a key', () => {
  it('signs after it is opened, and its signature holds for that text alone', async () => {
    const made = got(await make())
    const key = got(await unlock(place(), passphrase))
    expect(key).toMatchObject({ name, public: made })
    const value = key.sign('größer')
    expect(holds(made, 'größer', value)).toBe(true)
    expect(holds(made, 'grosser', value)).toBe(false)
    expect(holds(got(await makeKey({ folder, name: 'Other' }, passphrase, cheap)), 'größer', value)).toBe(false)
    expect(holds('', 'größer', '')).toBe(false)
  })

  it('lies in a file for its owner alone, and holds no secret in the clear', async () => {
    got(await make())
    expect(statSync(onlyFile()).mode & 0o777).toBe(0o600)
    expect(statSync(folder).mode & 0o777).toBe(0o700)
    expect(readdirSync(folder)).toHaveLength(1)
    expect(Object.keys(JSON.parse(readFileSync(onlyFile(), 'utf8')))).toEqual([
      ...['trueloop', 'name', 'public', 'scrypt', 'nonce', 'sealed', 'tag']
    ])
  })

  it('is made at the advised cost and opened in seconds (time printed)', async () => {
    got(await makeKey(place(), passphrase))
    expect(JSON.parse(readFileSync(onlyFile(), 'utf8')).scrypt).toMatchObject(cost)
    const from = { wall: performance.now(), cpu: process.cpuUsage() }
    got(await unlock(place(), passphrase))
    const took_s = (performance.now() - from.wall) / 1000
    const { user } = process.cpuUsage(from.cpu)
    console.info(
      `a key is opened in ${took_s.toFixed(2)} s, ${(user / 1e6).toFixed(2)} s of them work (aim: under 1 s)`
    )
    expect(took_s).toBeLessThan(20)
  }, 60_000)

  it('opens by one passphrase, however a keyboard composes its letters', async () => {
    got(await makeKey(place(), 'Pr\u00fcfung im Hangar', cheap))
    expect(codeOf(await unlock(place(), 'Pru\u0308fung im Hangar'))).toBe('no refusal')
  })

  it('of two people whose names look alike to a file system are two', async () => {
    got(await makeKey({ folder, name: 'A/B' }, passphrase, cheap))
    const other = got(await makeKey({ folder, name: 'a-b' }, passphrase, cheap))
    expect(got(await unlock({ folder, name: 'a-b' }, passphrase)).public).toBe(other)
    expect(readdirSync(folder)).toHaveLength(2)
  })
})

needsTool('openssl', 'a signature', (openssl) => {
  it('is one for OpenSSL', async () => {
    const made = got(await make())
    const value = got(await unlock(place(), passphrase)).sign('text')
    const paths = ['key.der', 'text', 'value'].map((one) => join(folder, one))
    const [keyPath = '', textPath = '', valuePath = ''] = paths
    writeFileSync(keyPath, Buffer.concat([hex('302a300506032b6570032100'), Buffer.from(made, 'base64')]))
    writeFileSync(textPath, 'text')
    writeFileSync(valuePath, Buffer.from(value, 'base64'))
    const asked = ['pkeyutl', '-verify', '-pubin', '-keyform', 'DER', '-inkey', keyPath, '-rawin']
    expect(execFileSync(openssl, [...asked, '-in', textPath, '-sigfile', valuePath], { encoding: 'utf8' })).toContain(
      'Verified Successfully'
    )
  })
})

describe('a new passphrase', () => {
  const to = 'another horse, another staple'

  it('opens the same key, and the old one opens it no more', async () => {
    const made = got(await make())
    got(await changePassphrase(place(), { from: passphrase, to }, cheap))
    expect(got(await unlock(place(), to)).public).toBe(made)
    expect(codeOf(await unlock(place(), passphrase))).toBe('keys/wrong-passphrase')
    expect(readdirSync(folder)).toHaveLength(1)
    expect(statSync(onlyFile()).mode & 0o777).toBe(0o600)
  })

  it('is not taken where it is short, or the old one is wrong: the key stays', async () => {
    got(await make())
    const before = readFileSync(onlyFile(), 'utf8')
    expect(codeOf(await changePassphrase(place(), { from: passphrase, to: 'short' }, cheap))).toBe(
      'keys/short-passphrase'
    )
    expect(codeOf(await changePassphrase(place(), { from: 'not this one', to }, cheap))).toBe('keys/wrong-passphrase')
    expect(readFileSync(onlyFile(), 'utf8')).toBe(before)
  })
})

describe('refusals', () => {
  it.each(['', 'elevenchars', 'aaaaaaaaaaaaaaaaa', '😀😀😀😀😀😀'])('a passphrase like "%s"', async (short) => {
    const no = await makeKey(place(), short, cheap)
    expect(codeOf(no)).toBe('keys/short-passphrase')
    if (short !== '') expect(JSON.stringify(no)).not.toContain(short)
    expect(codeOf(checkPassphrase(short))).toBe('keys/short-passphrase')
    expect(codeOf(await unlock(place(), passphrase))).toBe('keys/no-key')
  })

  it('a second key under one name, unless it is to stand beside the first', async () => {
    const first = got(await make())
    expect(codeOf(await make())).toBe('keys/exists')
    const second = got(await makeKey(place(), passphrase, { ...cheap, beside: true }))
    expect(got(await unlock({ ...place(), public: first }, passphrase)).public).toBe(first)
    expect(got(await unlock({ ...place(), public: second }, passphrase)).public).toBe(second)
  })

  it('a wrong passphrase, and says that a changed file looks the same', async () => {
    got(await make())
    const no = await unlock(place(), 'correct horse battery stapler')
    expect(codeOf(no)).toBe('keys/wrong-passphrase')
    expect(isRefusal(no) && no.found).toContain('can not be told apart')
    expect(isRefusal(no) && no.where?.file).toBe(onlyFile())
  })

  const other = (length: number) => Buffer.alloc(length, 7).toString('base64')

  it.each<[string, (file: Record<string, unknown>) => Record<string, unknown>]>([
    ['sealed bytes', (file) => ({ ...file, sealed: other(32) })],
    ['tag', (file) => ({ ...file, tag: other(16) })],
    ['public half', (file) => ({ ...file, public: other(32) })],
    ['cost', (file) => ({ ...file, scrypt: { ...(file.scrypt as object), p: 2 } })]
  ])('a file whose %s were changed as a wrong passphrase', async (_, change) => {
    got(await make())
    spoil(change)
    expect(codeOf(await unlock(place(), passphrase))).toBe('keys/wrong-passphrase')
  })

  it.each<[string, (file: Record<string, unknown>) => Record<string, unknown>]>([
    ['of another kind', (file) => ({ ...file, trueloop: 'key/2' })],
    ['without a name', (file) => ({ ...file, name: '' })],
    ['cut short', (file) => ({ ...file, sealed: other(31) })],
    ['of no base64', (file) => ({ ...file, tag: '!!' })],
    ['with a cost beyond all', (file) => ({ ...file, scrypt: { ...(file.scrypt as object), N: 2 ** 30 } })],
    ['without a salt', (file) => ({ ...file, scrypt: cost })]
  ])('a key file %s', async (_, change) => {
    got(await make())
    spoil(change)
    expect(codeOf(await unlock(place(), passphrase))).toBe('keys/damaged')
  })

  it('a key file that is no JSON', async () => {
    got(await make())
    writeFileSync(onlyFile(), 'not a key')
    expect(codeOf(await unlock(place(), passphrase))).toBe('keys/damaged')
  })

  it('a key that lies elsewhere', async () => {
    expect(codeOf(await unlock(place(), passphrase))).toBe('keys/no-key')
    got(await make())
    expect(codeOf(await keyFileOf({ ...place(), public: other(32) }))).toBe('keys/no-key')
  })

  it('a folder that is no folder', async () => {
    writeFileSync(folder, '')
    expect(codeOf(await make())).toBe('keys/unreachable')
  })
})

import { isRefusal, type Result, sentence } from '@trueloop/ground/refusal'
import type { Examination } from '../examine/index.ts'
import { canonical } from './canonical.ts'
import type { EntryRow, Hash } from './chain.ts'
import { type Difference, differences } from './differences.ts'
import { parseEntry } from './entry.ts'
import { type Fault, intactChain } from './intact.ts'
import type { Entry, EntryOf } from './kinds.ts'
import { mergesIn } from './merging/verify.ts'
import { asFarAsWritten, findings, repeatedOf } from './outcome.ts'
import { placesTold } from './practice.ts'
import { heldFaults } from './registered-again.ts'
import { signatureFaults } from './signatures.ts'
import { type RegistersVerdict, registersVerdict, type ShopAtHand } from './signers.ts'

/** What verifying needs from outside: the rows as they are read, and how to look at the originals again. */
export interface VerifyPorts {
  readonly rows: readonly EntryRow[]
  readonly hash: Hash
  /** what the archive itself keeps as the end of the chain */
  readonly kept?: ChainEnd
  /** the end of the chain as a printed report has it; later entries are then said, not faulted */
  readonly printed?: ChainEnd
  /** hash of the bytes that lie under this name now; undefined where nothing lies */
  readonly original: (sha256: string) => Promise<string | undefined>
  /** text of the document under this name; undefined where there is none */
  readonly document: (hash: string) => Promise<string | undefined>
  /** whether a signature is of a key (Ed25519; all in base64) */
  readonly holds?: (publicKey: string, text: string, value: string) => boolean
  /** the shop's record, to hold signers against; in words why there is none; absent: not at hand */
  readonly shop?: ShopAtHand | string
  /** examines the recording of this entry again, by the method of this program */
  readonly reexamine?: (examined: EntryOf<'examined'>) => Promise<Result<Examination>>
}

export interface ChainEnd {
  readonly count: number
  readonly head: string
}

/**
 * Three verdicts, which never stand for one another. `intact`: chain, documents and originals are the bytes that were
 * written. `replayed`: same method number, findings equal as canonical JSON. `anotherMethod`: what differs is listed,
 * and is no fault.
 */
export interface Verification {
  readonly intact: { readonly holds: boolean; readonly faults: readonly Fault[]; readonly entriesSincePrinted: number }
  readonly replayed: {
    readonly holds: boolean
    readonly count: number
    readonly faults: readonly Fault[]
    readonly asked: boolean
  }
  readonly anotherMethod: readonly MethodDifference[]
  /** whether those who signed stood in the register of the shop at that time */
  readonly registers: RegistersVerdict
}

export interface MethodDifference {
  readonly seq: number
  readonly recorded: number
  readonly now: number
  readonly differences: readonly Difference[]
}

/**
 * Verifies one job. An end of the chain that was cut off, and entries appended with right hashes, show only against
 * `kept` or `printed`: a chain alone can not know how long it should be.
 */
export async function verify(ports: VerifyPorts): Promise<Verification> {
  const chain = intactChain({ ...ports, parse: parseEntry })
  const stored = await storedFaults(ports, chain.sound)
  const merges = await mergesIn(ports, ports.rows)
  const signatures = await signatureFaults(ports, chain.sound, merges.heads)
  const faults = [...chain.faults, ...stored, ...signatures, ...merges.faults]
  const again = await replayFaults(ports, chain.sound)
  return {
    intact: { holds: faults.length === 0, faults, entriesSincePrinted: chain.entriesSincePrinted },
    replayed: {
      holds: ports.reexamine !== undefined && again.faults.length === 0,
      count: again.count,
      faults: again.faults,
      asked: ports.reexamine !== undefined
    },
    anotherMethod: again.anotherMethod,
    registers: registersVerdict(chain.sound, ports.shop ?? 'the registers of its shop are not at hand')
  }
}

/** An entry whose own bytes are sound, with its place. */
export interface Sound {
  readonly seq: number
  readonly entry: Entry
}

/** As many are looked at side by side: what waits for a disk then waits together. Faults come in the order of the entries. */
const sideBySide = 16

async function storedFaults(ports: VerifyPorts, sound: readonly Sound[]): Promise<readonly Fault[]> {
  const faults: Fault[] = []
  for (let from = 0; from < sound.length; from += sideBySide) {
    const some = sound.slice(from, from + sideBySide)
    faults.push(...(await Promise.all(some.map((one) => namedFaults(ports, one)))).flat())
  }
  return faults
}

/** What an entry names, and is not there as it was. */
async function namedFaults(ports: VerifyPorts, { seq, entry }: Sound): Promise<readonly Fault[]> {
  if (entry.kind === 'recording-kept' || entry.kind === 'drawing-kept') return originalFaults(ports, seq, entry)
  if (entry.kind === 'place-prepared') return photoFaults(ports, seq, entry)
  if (entry.kind === 'held-in-register') return heldFaults(ports, seq, entry)
  if (entry.kind === 'document-stored') return documentFaults(ports, seq, entry.document)
  if (entry.kind === 'standardized') return diameterFaults(ports, seq, entry)
  if (entry.kind === 'practice-marked') return practiceFaults(ports, seq, entry)
  return entry.kind === 'examined' ? examinationFaults(ports, seq, entry) : []
}

interface KeptOriginal {
  readonly sha256: string
  readonly file: string
}

async function originalFaults(ports: VerifyPorts, seq: number, { sha256, file }: KeptOriginal) {
  const found = await ports.original(sha256)
  if (found === sha256) return []
  const place = `original ${sha256} (${file}), kept by entry ${seq}`
  return [{ place, found: found === undefined ? 'no file' : `bytes whose hash is ${found}`, needed: sha256 }]
}

const photoFaults = async (ports: VerifyPorts, seq: number, { photo, subject }: EntryOf<'place-prepared'>) =>
  photo === undefined
    ? []
    : originalFaults(ports, seq, { sha256: photo, file: `photo of ${subject.of} ${subject.name}` })

const documentFaults = async (ports: VerifyPorts, seq: number, name: string): Promise<readonly Fault[]> =>
  textFaults(await ports.document(name), { hash: ports.hash, seq, name })

interface NamedText {
  readonly hash: Hash
  readonly seq: number
  readonly name: string
}

function textFaults(text: string | undefined, { hash, seq, name }: NamedText): readonly Fault[] {
  const found = text === undefined ? 'no document' : hash(text)
  return found === name ? [] : [{ place: `document ${name}, of entry ${seq}`, found, needed: name }]
}

/** The places that a marking repeats are those of the answers. */
async function practiceFaults({ document, hash }: VerifyPorts, seq: number, entry: EntryOf<'practice-marked'>) {
  const text = await document(entry.answers)
  const faults = textFaults(text, { hash, seq, name: entry.answers })
  if (faults.length > 0 || placesTold(text) === canonical(entry.places)) return faults
  return [{ place: `practice marked by entry ${seq}`, found: 'other places', needed: `those of ${entry.answers}` }]
}

/** The diameter that the entry repeats is that of its document. */
async function diameterFaults({ document, hash }: VerifyPorts, seq: number, entry: EntryOf<'standardized'>) {
  const text = entry.diameter_mm === undefined ? undefined : await document(entry.standardization)
  if (text === undefined || hash(text) !== entry.standardization) return []
  const { diameter_mm: told } = JSON.parse(text) as { readonly diameter_mm?: number }
  return told === entry.diameter_mm
    ? []
    : [{ place: `entry ${seq}, diameter_mm`, found: `${entry.diameter_mm}`, needed: `${told}, as its document has it` }]
}

/** What the entry repeats from its examination must be what the examination says. */
async function examinationFaults(
  ports: VerifyPorts,
  seq: number,
  entry: EntryOf<'examined'>
): Promise<readonly Fault[]> {
  const text = await ports.document(entry.examination)
  const bytes = textFaults(text, { hash: ports.hash, seq, name: entry.examination })
  if (bytes.length > 0 || text === undefined) return bytes
  // its bytes have just been found to bear its name
  const outcome = { examination: entry.examination, ...repeatedOf(JSON.parse(text) as Examination) }
  const told = asFarAsWritten(outcome, entry.indications)
  const repeated = Object.fromEntries(Object.keys(told).map((key) => [key, entry[key as keyof typeof told]]))
  return differences(told, repeated).map(({ path, was, now }) => ({
    place: `entry ${seq}, ${path}`,
    found: now,
    needed: `${was}, as its examination has it`
  }))
}

interface Again {
  readonly count: number
  readonly faults: readonly Fault[]
  readonly anotherMethod: readonly MethodDifference[]
}

async function replayFaults(ports: VerifyPorts, sound: readonly Sound[]): Promise<Again> {
  const faults: Fault[] = []
  const anotherMethod: MethodDifference[] = []
  let count = 0
  for (const { seq, entry } of ports.reexamine === undefined ? [] : sound) {
    if (entry.kind !== 'examined') continue
    const { fault, method } = await again(ports, seq, entry)
    if (fault !== undefined) faults.push(fault)
    if (method !== undefined) anotherMethod.push(method)
    if (fault === undefined && method === undefined) count++
  }
  return { count, faults, anotherMethod }
}

interface Outcome {
  readonly fault?: Fault
  readonly method?: MethodDifference
}

async function again(ports: VerifyPorts, seq: number, entry: EntryOf<'examined'>): Promise<Outcome> {
  const place = `entry ${seq}, examination of ${entry.subject.of} ${entry.subject.name}`
  const text = await ports.document(entry.examination)
  if (text === undefined || ports.hash(text) !== entry.examination) {
    return { fault: { place, found: 'no sound document to compare with', needed: entry.examination } }
  }
  const now = await ports.reexamine?.(entry)
  if (now === undefined || isRefusal(now)) {
    return {
      fault: { place, found: now === undefined ? 'nothing' : sentence(now), needed: 'an examination to compare' }
    }
  }
  const found = differences(findings(JSON.parse(text) as Examination), findings(now))
  if (now.method !== entry.method) {
    return { method: { seq, recorded: entry.method, now: now.method, differences: found } }
  }
  return canonical(findings(now)) === text ? {} : { fault: { place, ...firstOf(found) } }
}

const firstOf = (found: readonly Difference[]) => ({
  found: `${found.length} differences, the first at ${found[0]?.path ?? 'the text'}: ${found[0]?.now ?? 'other bytes'}`,
  needed: found[0]?.was ?? 'the bytes recorded'
})

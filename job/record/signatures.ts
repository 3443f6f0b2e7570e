import { personRowSchema } from '../plan/index.ts'
import type { Fault } from './intact.ts'
import type { Signature } from './kinds/parts.ts'
import type { Entry } from './kinds.ts'
import { beginning, type EntryRow } from './row.ts'
import { signatureOf, signedText } from './signing.ts'

/** What looking at signatures again needs from outside. */
export interface SignaturePorts {
  readonly rows: readonly EntryRow[]
  readonly document: (hash: string) => Promise<string | undefined>
  /** whether `value` is the signature of a text under a public key; absent where nobody can tell */
  readonly holds?: (publicKey: string, text: string, value: string) => boolean
}

interface Sound {
  readonly seq: number
  readonly entry: Entry
}

/**
 * Looks at every signature again: of that person, on that entry, over a state that the record had before it. Rights and
 * dates were looked at when it was written. A record that was merged has states of the other chain too (`alsoHeads`).
 */
export async function signatureFaults(
  ports: SignaturePorts,
  sound: readonly Sound[],
  alsoHeads: ReadonlySet<string> = new Set()
): Promise<readonly Fault[]> {
  const job = jobOf(sound)
  const heads = new Map([[beginning, -1], ...ports.rows.map(({ hash }, at) => [hash, at] as const)])
  const faults: Fault[] = []
  for (const { seq, entry } of sound) {
    const signature = signatureOf(entry)
    if (signature === undefined) continue
    const isHead = (heads.get(signature.over) ?? seq) < seq || alsoHeads.has(signature.over)
    const found = isHead ? await faultOf(ports, { job, entry, signature }) : 'a state that the record never had'
    const place = `entry ${seq}, signature of ${entry.by.name}`
    if (found !== undefined) faults.push({ place, found, needed: 'the signature of that person on this entry' })
  }
  return faults
}

const jobOf = (sound: readonly Sound[]): string => {
  const [first] = sound
  return first?.entry.kind === 'job-opened' ? first.entry.job.id : ''
}

interface Signed {
  readonly job: string
  readonly entry: Entry
  readonly signature: Signature
}

async function faultOf({ document, holds }: SignaturePorts, { job, entry, signature }: Signed) {
  const text = await document(signature.person)
  const person = text === undefined ? undefined : personRowSchema.safeParse(jsonOf(text))
  if (person?.success !== true) return 'no document of that person'
  if (holds === undefined) return 'nobody who can look at signatures'
  const sound = holds(person.data.key.public, signedText(job, entry), signature.value)
  return sound && person.data.name === entry.by.name ? undefined : 'a signature that does not fit'
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

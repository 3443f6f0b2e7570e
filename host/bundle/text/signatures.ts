import type { EntryRow } from '@trueloop/job/record'
import { names } from '../names.ts'
import { wrapped } from './ascii.ts'

/** How a signature is checked without this program; worked on the first signed entry of the job. */
export function signatures(job: string, rows: readonly EntryRow[]): readonly string[] {
  const row = rows.find(({ body }) => signatureIn.test(body))
  if (row === undefined) return wrapped('No entry of this job is signed by a key.')
  return [
    ...wrapped(
      'The member "signed" of an entry holds "person" (the document of who signed, with the public key), "over" (the chain head before their eyes) and "value", an Ed25519 signature (RFC 8032) in base64. What is signed is {"entry":E,"job":J} in UTF-8: E is the entry as its line has it, without the member "value" of "signed"; J is the number of the job as JSON text.'
    ),
    '',
    ...(isPlain(job)
      ? example(job, row)
      : wrapped(`The job's name can not be written in ASCII: take J from ${names.job}.`))
  ]
}

const signatureIn = /"signed":\{"over":"[0-9a-f]{64}","person":"([0-9a-f]{64})","value":"([A-Za-z0-9+/]{86}==)"\}/

/** What a shell takes between apostrophes, and `sed` as it stands. */
const isPlain = (job: string): boolean => /^[\w .,:+-]+$/.test(job)

const entryAlone = String.raw`s/^[{]"entry":(.*),"hash":"[0-9a-f]{64}","previous":"[0-9a-f]{64}","seq":[0-9]+[}]$/\1/`
const valueCut = String.raw`s/("person":"[0-9a-f]{64}"),"value":"[A-Za-z0-9+\/=]{88}"[}]/\1}/`

function example(job: string, { seq, body }: EntryRow): readonly string[] {
  const [, person = '', value = ''] = signatureIn.exec(body) ?? []
  const frame = `s/^(.*)$/{"entry":\\1,"job":"${job}"}/`
  return [
    `Worked example, line ${seq + 1}. The bytes before the key are those of its standard form (RFC 8410).`,
    '',
    `  sed -n ${seq + 1}p ${names.entries} | sed -E '${entryAlone}' \\`,
    `    | sed -E '${valueCut}' \\`,
    `    | sed -E '${frame}' | tr -d '\\n' > signed.txt`,
    `  (printf '0*0\\005\\006\\003+ep\\003!\\000'; sed -E 's/.*"public":"([^"]*)".*/\\1/' \\`,
    `    documents/${person}.json \\`,
    '    | base64 -d) > signer.der',
    `  echo ${value} \\`,
    '    | base64 -d > signature.bin',
    '  openssl pkeyutl -verify -pubin -keyform DER -inkey signer.der -rawin \\',
    '    -in signed.txt -sigfile signature.bin',
    '',
    'It prints: Signature Verified Successfully'
  ]
}

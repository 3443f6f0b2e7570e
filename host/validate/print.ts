import type { Result } from '@trueloop/ground/refusal'
import { canonical } from '@trueloop/job/record'
import { type Attachment, type Page, pdf } from '../press/index.ts'
import { validationBlocks } from './blocks.ts'
import type { SignedValidation } from './sign.ts'
import type { Validation } from './validate.ts'

/** The record of a validation as a page, and as PDF with the record inside. */
export interface Printed {
  readonly page: Page
  /** refuses `press/no-typesetter` */
  readonly pdf: () => Promise<Result<Uint8Array>>
}

export function printed(validation: Validation, signed?: SignedValidation): Printed {
  const { program, methods, at } = validation
  const page = {
    title: 'Record of installation and performance',
    blocks: validationBlocks(validation, signed === undefined ? undefined : signatureText(signed)),
    footer: `${program.name} ${program.version}. ${signed === undefined ? 'Unsigned' : `Signed by ${signed.by}`}.`
  }
  const numbers = Object.values(methods).join(', ')
  const foot = `Record of installation · ${program.name} ${program.version} · methods ${numbers} · ${signed === undefined ? 'unsigned' : `entry ${signed.hash.slice(0, 12)}`}`
  return { page, pdf: () => pdf({ ...page, foot, time: at.time, attachments: [recordOf(validation)] }) }
}

/** Its SHA-256 is the name under which the signed entry has it. */
const recordOf = (validation: Validation): Attachment => ({
  ...{ name: 'validation.json', mime: 'application/json', relationship: 'source' },
  description: 'The record of which this is a print, as canonical JSON: its SHA-256 is the document that was signed',
  bytes: Buffer.from(canonical(validation), 'utf8')
})

const signatureText = ({ by, level, time, hash, document }: SignedValidation): string =>
  `Signed by ${by}, Level ${level}, ${time}, in the record of the shop: entry ${hash}, of the document whose SHA-256 is ${document}.`

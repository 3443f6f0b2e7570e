import { sign } from 'node:crypto'
import type { PersonRow } from '@trueloop/job/plan'
import { invent } from '@trueloop/job/record/testing'
import type { Signer } from '../keys.ts'

/** An invented person who signs with a key made for one run. `over`: what of their row differs. */
export function signerOf(name: string, level: PersonRow['level'], over: Partial<PersonRow> = {}): Signer {
  const certified = {
    certificate: { number: `ET-${name}`, issued: '2024-02-01', expires: '2029-01-31' },
    near_vision: { examined: '2025-10-01', expires: '2026-09-30' }
  }
  const { row, document, key } = invent(name, level, { ...certified, ...over })
  return { row, person: document, sign: (text) => sign(null, Buffer.from(text), key).toString('base64') }
}

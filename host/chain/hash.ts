import { canonical } from '@trueloop/job/record'
import { sha256 } from '../hash/index.ts'

/** The name of a document: the hash of its canonical JSON. */
export const nameOf = (value: unknown): string => sha256(canonical(value))

/** The recorded formats, one file each. The first that recognizes a file reads it. */
import type { Format } from '../format.ts'
import { delimited } from './delimited.ts'
import { wave } from './wave.ts'

export const formats: readonly Format[] = [wave, delimited]

import type { Refusal } from '@trueloop/ground/refusal'
import { say } from '../../terminal/say.ts'

/** Nothing came of it but reasons. */
export const refused = (json: boolean, refusals: readonly Refusal[]): void =>
  void say({ document: 'prove/1', json, refusals, text: [], data: {} })

/** Test help: a survey of text. */
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Survey, survey as surveyBytes } from '../index.ts'
import { utf8 } from './read.ts'

export { isRefusal }

export function survey(text: string): Result<Survey> {
  const bytes = utf8(text)
  return surveyBytes(bytes, 'a file', bytes.length)
}

import { Unreached } from './client.ts'
import { answerOf } from './statements.ts'

/** Sends the bytes of a file into a job. Throws `Refused` and `Unreached`. */
export async function upload<T>(
  job: string,
  what: 'recordings' | 'drawings',
  about: Readonly<Record<string, string>>,
  bytes: Blob
): Promise<T> {
  const address = `/api/jobs/${encodeURIComponent(job)}/${what}?${new URLSearchParams(about)}`
  const headers = { 'content-type': 'application/octet-stream' }
  const response = await fetch(address, { method: 'PUT', headers, body: bytes }).catch((): never => {
    throw new Unreached('the service does not answer')
  })
  return answerOf<T>(response)
}

import type { Refusal } from '@trueloop/ground/refusal'
import type { FastifyReply, FastifyRequest } from 'fastify'
import { hasZodFastifySchemaValidationErrors } from 'fastify-type-provider-zod'
import { type Code, refuse } from '../codes.ts'

/** How the programs of other people are told no. */

export function sendRefusals(reply: FastifyReply, status: number, all: readonly Refusal[]): FastifyReply {
  const refusals = all.map(({ refused: _, ...reason }) => reason)
  return reply.code(status).type('application/json; charset=utf-8').send({ refusals })
}

const noneOf = (code: Code, what: string, list: string): Refusal =>
  refuse(code, {
    found: `no ${what}`,
    needed: `a ${what.split(' ')[0]} that is in the record`,
    remedy: `take a name from ${list}`
  })

export const noJob = (job: string): Refusal => noneOf('service/no-such-job', `job ${job}`, '/api/jobs')

export const noPlace = ({ job, of, name }: Readonly<Record<'job' | 'of' | 'name', string>>): Refusal =>
  noneOf('service/no-such-place', `${of} ${name} in job ${job}`, 'the places of the job')

export const noExamination = ({ job, hash }: Readonly<Record<'job' | 'hash', string>>): Refusal =>
  noneOf('service/no-such-examination', `examination ${hash} in job ${job}`, 'the examinations of a place')

export const noDocument = ({ job, hash }: Readonly<Record<'job' | 'hash', string>>): Refusal =>
  noneOf('service/no-such-document', `document ${hash} in job ${job}`, 'the record of the job')

export const noRecording = ({ job, hash }: Readonly<Record<'job' | 'hash', string>>): Refusal =>
  noneOf('service/no-such-recording', `recording ${hash} in job ${job}`, 'the examinations of a place')

export const noDrawing = ({ job, hash }: Readonly<Record<'job' | 'hash', string>>): Refusal =>
  noneOf('service/no-such-drawing', `drawing ${hash} in job ${job}`, 'the drawings of the job')

export const noRoute = (method: string): Refusal =>
  refuse('service/no-such-route', {
    found: `${method} to an address that nothing answers`,
    needed: 'an address and a method of the list',
    remedy: 'see /api/openapi.json for the list'
  })

export const otherHost = (host: string | undefined): Refusal =>
  refuse('service/other-host', {
    found: host === undefined ? 'a request that names no host' : `a request to ${host}`,
    needed: 'a name that means this computer itself',
    remedy: 'open the address that the program printed when it started'
  })

export const otherSite = (site: string): Refusal =>
  refuse('service/other-site', {
    found: `a request made by a page of ${site}`,
    needed: 'a request by a page of this service, or by a program',
    remedy: 'open the address that the program printed when it started'
  })

/** A name that can't be one is the caller's fault; anything else is ours, and its words are not sent out. */
export function sendFault(error: unknown, _: FastifyRequest, reply: FastifyReply): FastifyReply {
  const sent = wrongBody((error as { readonly code?: unknown }).code)
  if (sent !== undefined) return sendRefusals(reply, ...sent)
  if (hasZodFastifySchemaValidationErrors(error) && error.validationContext !== 'params')
    return sendRefusals(reply, 400, error.validation.map(notAStatement))
  if (hasZodFastifySchemaValidationErrors(error)) {
    const found = error.validation.map(({ instancePath, message }) => `${instancePath.slice(1)}: ${message}`).join('; ')
    const needed = 'names and hashes in the form that the list of addresses gives'
    return sendRefusals(reply, 400, [
      refuse('service/not-a-name', { found, needed, remedy: 'see /api/openapi.json for the list' })
    ])
  }
  return sendRefusals(reply, 500, [fault])
}

export const noBody = (): Refusal =>
  refuse('service/not-json', {
    found: 'a recording or drawing that is sent as something else',
    needed: 'its bytes, as application/octet-stream',
    remedy: 'see /api/openapi.json for the list'
  })

/** What can't be read as JSON, by the code of the server library. */
function wrongBody(code: unknown): [number, readonly Refusal[]] | undefined {
  const needed = 'JSON (application/json) of at most 1 MiB, as the list of addresses describes it'
  const remedy = 'see /api/openapi.json for the list'
  switch (code) {
    case 'FST_ERR_CTP_INVALID_MEDIA_TYPE':
      return [415, [refuse('service/not-json', { found: 'a body of another type than JSON', needed, remedy })]]
    case 'FST_ERR_CTP_INVALID_JSON_BODY':
    case 'FST_ERR_CTP_EMPTY_JSON_BODY':
    case 'FST_ERR_CTP_INVALID_CONTENT_LENGTH':
      return [400, [refuse('service/not-json', { found: 'a body that is no JSON', needed, remedy })]]
    case 'FST_ERR_CTP_BODY_TOO_LARGE':
      return [413, [refuse('service/too-large', { found: 'a body that is larger', needed, remedy })]]
    default:
      return undefined
  }
}

const notAStatement = ({ instancePath, message }: { readonly instancePath: string; readonly message?: string }) => {
  const path = instancePath.slice(1).replaceAll('/', '.')
  return refuse('service/not-a-statement', {
    found: `${path || 'what was sent'}: ${message ?? 'wrong'}`,
    needed: 'what the list of addresses describes, every part in its range, and no other',
    remedy: 'correct what was entered there',
    where: { path: path || 'body' }
  })
}

const fault = refuse('service/fault', {
  found: 'a fault of this program while it answered',
  needed: 'a record that this version of the program can read',
  remedy: 'run "trueloop verify" on the job; if it finds nothing, report what was asked for'
})

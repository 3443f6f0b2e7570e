import { createReadStream } from 'node:fs'
import type { Readable } from 'node:stream'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { FastifyInstance } from 'fastify'
import { validatorCompiler } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { tokenIn } from '../desk/cookie.ts'
import type { Desk } from '../desk/desk.ts'
import type { RecordSource } from '../source.ts'
import { deskRoutes } from './desk-routes.ts'
import { describeRoutes } from './document.ts'
import { drawingRoutes, shownDrawings } from './drawing-routes.ts'
import { eventRoutes } from './events.ts'
import { guard } from './guard.ts'
import { intakeRoutes } from './intake-routes.ts'
import { noDocument, noExamination, noJob, noPlace, noRecording, noRoute, sendFault, sendRefusals } from './refused.ts'
import { hash, jobBriefs, jobSummary, of, placeDetail, preview, refusals, storedExamination } from './schemas/index.ts'
import { sendNo } from './where.ts'

const job = z.string().describe('number of the job')
const name = z.string().describe('name of the hole, track or loop')
const no = { 400: refusals, 403: refusals, 404: refusals, 421: refusals, 500: refusals, 503: refusals }

declare module 'fastify' {
  interface FastifyRequest {
    /** name of who has signed in */
    reader?: string | undefined
  }
}

/** What programs and the workbench read, and what people state. Names are looked up in the record only: no path leads to a file. */
export const api =
  (source: RecordSource, desk?: Desk) =>
  async (instance: FastifyInstance): Promise<void> => {
    instance.setValidatorCompiler(validatorCompiler)
    // Answers are sent as they are: a schema that had fallen behind must not cut findings off. Tests hold them against it.
    instance.setSerializerCompiler(() => JSON.stringify)
    instance.addHook('onRequest', guard)
    instance.decorateRequest('reader')
    instance.addHook('onRequest', async (request) => {
      request.reader = desk?.readerOf(tokenIn(request.headers))
    })
    instance.setErrorHandler(sendFault)
    await describeRoutes(instance)
    jobRoutes(instance, source)
    placeRoutes(instance, source)
    signalRoutes(instance, source)
    shownDrawings(instance, source)
    takeJsonOnly(instance)
    if (desk !== undefined) {
      deskRoutes(instance, desk)
      eventRoutes(instance, desk)
      intakeRoutes(instance, desk)
      drawingRoutes(instance, desk)
    }
    instance.get('/openapi.json', { schema: { hide: true } }, (_, reply) => reply.send(instance.swagger()))
    instance.setNotFoundHandler(({ method }, reply) => sendRefusals(reply, 404, [noRoute(method)]))
  }

/** A form of another page can send text, and no JSON; what is large is no statement. */
function takeJsonOnly(instance: FastifyInstance): void {
  const json = instance.getDefaultJsonParser('error', 'error')
  instance.removeAllContentTypeParsers()
  instance.addContentTypeParser('application/json', { parseAs: 'string', bodyLimit: mostBytes }, json)
}

/** Of a statement: five thousand places by name are a third of it. Our own number. */
const mostBytes = 1 << 20

function jobRoutes(instance: FastifyInstance, source: RecordSource): void {
  add(instance, '/jobs', {
    ...{ operationId: 'jobs', about: 'How all jobs stand, in short', params: z.object({}), noun: jobBriefs },
    find: (_, reader) => source.jobs(reader),
    // a list is always there
    none: () => noJob('')
  })
  add(instance, '/jobs/:job', {
    ...{ operationId: 'job', about: 'How a job stands', params: z.object({ job }), noun: jobSummary },
    find: (asked, reader) => source.job(asked.job, reader),
    none: (asked) => noJob(asked.job)
  })
}

function placeRoutes(instance: FastifyInstance, source: RecordSource): void {
  add(instance, '/jobs/:job/places/:of/:name', {
    ...{ operationId: 'place', about: 'One place of a job' },
    ...{ params: z.object({ job, of, name }), noun: placeDetail },
    find: (asked, reader) => source.place(asked.job, asked, reader),
    none: noPlace
  })
  add(instance, '/jobs/:job/examinations/:hash', {
    ...{ operationId: 'examination', about: 'One stored examination, with its picture' },
    ...{ params: z.object({ job, hash }), noun: storedExamination },
    find: (asked, reader) => source.examination(asked.job, asked.hash, reader),
    none: noExamination
  })
}

/** What the page draws from, and what it examines once more by itself. */
function signalRoutes(instance: FastifyInstance, source: RecordSource): void {
  const params = z.object({ job, hash })
  add(instance, '/jobs/:job/examinations/:hash/preview', {
    ...{ operationId: 'preview', about: 'What an examination was made from, but for the bytes of the recording' },
    ...{ params, noun: preview },
    find: (asked, reader) => source.preview(asked.job, asked.hash, reader),
    none: noExamination
  })
  addBytes(instance, '/jobs/:job/examinations/:hash/wall', {
    ...{
      operationId: 'wall',
      about: 'Signal of a hole as judged, unrolled: head of 256 bytes, then x and y as 32-bit floats'
    },
    ...{ params, type: 'application/octet-stream', none: noExamination },
    find: (asked) => source.wall(asked.job, asked.hash)
  })
  addBytes(instance, '/jobs/:job/documents/:hash', {
    ...{ operationId: 'document', about: 'A document that the record names, word for word' },
    ...{ params, type: 'application/json; charset=utf-8', none: noDocument },
    find: (asked, reader) => source.document(asked.job, asked.hash, reader)
  })
  addBytes(instance, '/jobs/:job/recordings/:hash', {
    ...{ operationId: 'recording', about: 'An original recording, unchanged' },
    ...{ params, type: 'application/octet-stream', none: noRecording },
    find: async (asked) => {
      const path = await source.recording(asked.job, asked.hash)
      return typeof path === 'string' ? createReadStream(path) : path
    }
  })
}

interface Bytes<Params extends z.ZodObject> extends Omit<Answer<Params, never>, 'noun' | 'find'> {
  readonly type: string
  readonly find: (
    asked: z.output<Params>,
    reader?: string
  ) => Promise<Result<Uint8Array | string | Readable | undefined>>
}

/** The same for bytes. Named by its content, an answer never changes: the browser may keep it. */
function addBytes<Params extends z.ZodObject>(
  instance: FastifyInstance,
  path: string,
  { operationId, about, params, type, find, none }: Bytes<Params>
): void {
  const bytes = z.string().meta({ format: 'binary' })
  const schema = { operationId, summary: about, params, response: { 200: bytes, ...no } }
  instance.get(path, { schema }, async (request, reply) => {
    const asked = request.params as z.output<Params>
    const found = await find(asked, request.reader)
    if (isRefusal(found)) return sendNo(reply, found)
    if (found === undefined) return sendRefusals(reply, 404, [none(asked)])
    return reply.header('cache-control', 'private, max-age=31536000, immutable').type(type).send(found)
  })
}

interface Answer<Params extends z.ZodObject, Noun> {
  readonly operationId: string
  readonly about: string
  readonly params: Params
  readonly noun: z.ZodType<Noun>
  readonly find: (asked: z.output<Params>, reader?: string) => Promise<Result<Noun | undefined>>
  readonly none: (asked: z.output<Params>) => Refusal
}

/** An address that answers with a noun: 404 where there is no such thing, 503 where the archive is in trouble. */
function add<Params extends z.ZodObject, Noun>(
  instance: FastifyInstance,
  path: string,
  { operationId, about, params, noun, find, none }: Answer<Params, Noun>
): void {
  const schema = { operationId, summary: about, params, response: { 200: noun, ...no } }
  instance.get(path, { schema }, async (request, reply) => {
    const asked = request.params as z.output<Params>
    const found = await find(asked, request.reader)
    if (isRefusal(found)) return sendNo(reply, found)
    return found === undefined ? sendRefusals(reply, 404, [none(asked)]) : reply.send(found)
  })
}

import type { Readable } from 'node:stream'
import { isRefusal } from '@trueloop/ground/refusal'
import type { FastifyInstance } from 'fastify'
import { z } from 'zod'
import { tokenIn } from '../desk/cookie.ts'
import type { Desk } from '../desk/desk.ts'
import { mostBytes, tooLarge } from '../desk/intake.ts'
import { described } from './described.ts'
import { noBody, noJob, sendRefusals } from './refused.ts'
import { intakeFile, refusals, uploading, type Watching, watch, watching } from './schemas/index.ts'
import { sendNo } from './where.ts'

const params = z.object({ job: z.string().describe('number of the job') })
const no = Object.fromEntries([400, 401, 403, 404, 413, 415, 421, 422, 500, 503].map((one) => [one, refusals]))

/** Where recordings come in. */
export function intakeRoutes(instance: FastifyInstance, desk: Desk): void {
  instance.addContentTypeParser('application/octet-stream', (_, payload, done) => done(null, payload))
  instance.get('/jobs/:job/watch', {
    schema: { ...described('watch', 'What lies in the watched folder'), params, response: { 200: watch, ...no } },
    handler: (request, reply) => reply.send(desk.watchView(jobIn(request.params)))
  })
  instance.post('/jobs/:job/watch', {
    schema: {
      ...described('expect', 'Says which place the next recording in the watched folder is of'),
      ...{ params, body: watching, response: { 200: watch, ...no } }
    },
    handler: async (request, reply) => {
      const job = jobIn(request.params)
      const seen = await desk.watch(job, request.body as Watching, tokenIn(request.headers))
      if (seen === undefined) return sendRefusals(reply, 404, [noJob(job)])
      return isRefusal(seen) ? sendNo(reply, seen) : reply.send(seen)
    }
  })
  instance.put('/jobs/:job/recordings', {
    schema: {
      ...described('upload', 'Takes in one recording (application/octet-stream), and examines it'),
      ...{ params, querystring: uploading, response: { 200: intakeFile, ...no } }
    },
    handler: async (request, reply) => {
      const job = jobIn(request.params)
      const { of, name, file } = request.query as z.output<typeof uploading>
      if (Number(request.headers['content-length'] ?? 0) > mostBytes) return sendRefusals(reply, 413, [tooLarge(file)])
      const bytes = request.body as Readable | undefined
      if (bytes === undefined || typeof bytes.pipe !== 'function') return sendRefusals(reply, 415, [noBody()])
      const isPlace = of === 'hole' || of === 'track' || of === 'loop'
      const subject = isPlace ? { of, name: name ?? '' } : of === 'parent' ? { of, track: name ?? '' } : { of }
      const done = await desk.upload(job, { file, subject, bytes }, tokenIn(request.headers))
      if (done === undefined) return sendRefusals(reply, 404, [noJob(job)])
      return isRefusal(done) ? sendNo(reply, done) : reply.send(done)
    }
  })
}

const jobIn = (asked: unknown): string => (asked as { readonly job: string }).job

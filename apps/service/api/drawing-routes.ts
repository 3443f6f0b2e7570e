import { createReadStream } from 'node:fs'
import type { Readable } from 'node:stream'
import { isRefusal } from '@trueloop/ground/refusal'
import { mostDrawingBytes } from '@trueloop/host/chain'
import type { FastifyInstance, FastifyReply } from 'fastify'
import { z } from 'zod'
import { refuse } from '../codes.ts'
import { tokenIn } from '../desk/cookie.ts'
import type { Desk } from '../desk/desk.ts'
import type { RecordSource } from '../source.ts'
import { described } from './described.ts'
import { noBody, noDrawing, noJob, sendRefusals } from './refused.ts'
import { bringing, drawingRow, hash, refusals } from './schemas/index.ts'
import { sendNo } from './where.ts'

const job = z.string().describe('number of the job')
const params = z.object({ job })
const one = z.object({ job, hash })
const no = Object.fromEntries([400, 401, 403, 404, 413, 415, 421, 422, 500, 503].map((status) => [status, refusals]))

/**
 * A drawing is shown as an image only. Opened by itself it runs nothing and loads nothing, whatever it holds: an SVG can
 * hold a script.
 */
const asImage = "sandbox; default-src 'none'; style-src 'unsafe-inline'; img-src data:"

/** Where drawings are shown from. */
export function shownDrawings(instance: FastifyInstance, source: RecordSource): void {
  const bytes = z.string().meta({ format: 'binary' })
  instance.get('/jobs/:job/drawings/:hash', {
    schema: {
      ...described('drawing', 'A drawing or photo of the component, unchanged'),
      ...{ params: one, response: { 200: bytes, ...no } }
    },
    handler: async (request, reply) => {
      const asked = request.params as z.output<typeof one>
      const found = await source.drawing(asked.job, asked.hash)
      if (found === undefined) return sendRefusals(reply, 404, [noDrawing(asked)])
      if (isRefusal(found)) return sendNo(reply, found)
      const { form, path } = found as Exclude<typeof found, { readonly refused: true }>
      return shown(reply, form).send(createReadStream(path))
    }
  })
}

const shown = (reply: FastifyReply, form: string): FastifyReply =>
  reply
    .header('cache-control', 'private, max-age=31536000, immutable')
    .header('content-security-policy', asImage)
    .header('content-disposition', 'inline')
    .type(form)

/** Where drawings come in. */
export function drawingRoutes(instance: FastifyInstance, desk: Desk): void {
  instance.put('/jobs/:job/drawings', {
    schema: {
      ...described('bring', 'Takes in a drawing or photo (application/octet-stream)'),
      ...{ params, querystring: bringing, response: { 200: drawingRow, ...no } }
    },
    handler: async (request, reply) => {
      const asked = request.params as z.output<typeof params>
      const { file, title } = request.query as z.output<typeof bringing>
      if (Number(request.headers['content-length'] ?? 0) > mostDrawingBytes) return tooLarge(reply, file)
      const bytes = request.body as Readable | undefined
      if (bytes === undefined || typeof bytes.pipe !== 'function') return sendRefusals(reply, 415, [noBody()])
      const sent = { file, bytes, ...(title === undefined ? {} : { title }) }
      const done = await desk.bringDrawing(asked.job, sent, tokenIn(request.headers))
      if (done === undefined) return sendRefusals(reply, 404, [noJob(asked.job)])
      return isRefusal(done) ? sendNo(reply, done) : reply.send(done)
    }
  })
}

const tooLarge = (reply: FastifyReply, file: string): FastifyReply =>
  sendRefusals(reply, 413, [
    refuse('service/too-large', {
      found: `${file}: more than ${mostDrawingBytes / 1024 / 1024} MiB`,
      needed: 'a drawing or photo as it is shown on a page',
      remedy: 'save it smaller, or in parts, and take that'
    })
  ])

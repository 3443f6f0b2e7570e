import { shopChain } from '@trueloop/job/plan'
import type { FastifyInstance, FastifyReply } from 'fastify'
import { z } from 'zod'
import type { Desk } from '../desk/desk.ts'
import type { FeedEvent } from '../desk/feed.ts'
import { described } from './described.ts'
import { refusals } from './schemas/index.ts'

/** What happens to a job, as server-sent events. source: whatwg-html-2024, 9.2 */

/** A stream that says nothing is cut off by what lies between, and a page can't tell it from a dead one. Our own number. */
const heartbeat_ms = 10_000

const no = { 403: refusals, 421: refusals, 500: refusals }

export function eventRoutes(instance: FastifyInstance, desk: Desk): void {
  const open = new Set<() => void>()
  instance.addHook('preClose', async () => {
    for (const end of open) end()
    desk.feed.close()
  })
  instance.get('/jobs/:job/events', {
    schema: {
      ...described(
        'events',
        'What happens to a job, as server-sent events: entry, head, progress, watch. Last-Event-ID is the number of the last entry seen'
      ),
      params: z.object({ job: z.string().describe('number of the job') }),
      response: { 200: z.string().meta({ format: 'binary' }), ...no }
    },
    handler: (request, reply) => {
      const { job } = request.params as { readonly job: string }
      const last = Number(request.headers['last-event-id'] ?? Number.NaN)
      const { raw } = begin(reply)
      const after = Number.isSafeInteger(last) && last >= 0 ? last : undefined
      const tell = (event: FeedEvent) => void raw.write(textOf(event))
      const stop = job === shopChain ? () => undefined : desk.feed.listen(job, tell, after)
      const beat = setInterval(() => raw.write(': still here\n\n'), heartbeat_ms)
      const end = () => {
        clearInterval(beat)
        stop()
        open.delete(end)
        raw.end()
      }
      open.add(end)
      raw.on('close', end)
    }
  })
}

/** The answer goes on for as long as somebody listens: past the library that would end it. */
function begin(reply: FastifyReply): FastifyReply {
  reply.hijack()
  const headers = { ...reply.getHeaders(), 'content-type': 'text/event-stream; charset=utf-8' }
  reply.raw.writeHead(200, headers as Record<string, string>)
  // a page that was cut off comes back soon: the service is on the same computer
  reply.raw.write('retry: 1000\n\n')
  return reply
}

const textOf = ({ event, id, data }: FeedEvent): string =>
  `${id === undefined ? '' : `id: ${id}\n`}event: ${event}\ndata: ${JSON.stringify(data)}\n\n`

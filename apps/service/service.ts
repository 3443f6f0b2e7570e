import { isRefusal, type Result } from '@trueloop/ground/refusal'
import Fastify, { type FastifyInstance, type FastifyReply, type FastifyRequest } from 'fastify'
import { otherHost, sendRefusals } from './api/refused.ts'
import { api } from './api/routes.ts'
import { statusOf } from './api/status.ts'
import type { Desk } from './desk/desk.ts'
import { isLoopbackName } from './loopback.ts'
import { favicon } from './marks.ts'
import { jobPage } from './pages/job.ts'
import { jobsPage } from './pages/jobs.ts'
import { notFoundPage, refusalPage } from './pages/trouble.ts'
import type { RecordSource } from './source.ts'
import { style } from './style.ts'
import { Workbench } from './workbench.ts'

const policy = (...allowed: readonly string[]): string =>
  ["default-src 'none'", ...allowed, "base-uri 'none'", "form-action 'none'", "frame-ancestors 'none'"].join('; ')

const own = policy("style-src 'self'", "img-src 'self'")
/** A report is one document that carries its styles and drawings within itself; it may run nothing. */
const ofReport = policy("style-src 'unsafe-inline'", 'img-src data:')

export interface Building {
  /** folder of the built workbench; without one, or where nothing is built, the pages of the service answer */
  readonly workbench?: string
  /** where people sign in and decide; without one the record is only read */
  readonly desk?: Desk
}

/** Pages of the record, and under /api the record for programs, and what people state. Answers to requests that name this computer as loopback, and to no others. */
export function buildService(source: RecordSource, { workbench: folder, desk }: Building = {}): FastifyInstance {
  const workbench = folder === undefined ? undefined : new Workbench(folder)
  const service = Fastify({
    ...{ logger: false, forceCloseConnections: true, return503OnClosing: true },
    routerOptions: { maxParamLength: longestName }
  })
  service.addHook('onRequest', async (request, reply) => {
    reply.headers(headers)
    if (!isLoopbackName(request.headers.host)) await sendOtherHost(request, reply)
  })
  service.addHook('onClose', async () => {
    await desk?.close()
    await source.close?.()
  })
  void service.register(api(source, desk), { prefix: '/api' })
  service.get('/', async (_, reply) => {
    if ((await workbench?.page(reply)) !== true) page(reply, await source.jobs(), jobsPage)
    return reply
  })
  service.get<Named>('/jobs/:job', async ({ params }, reply) => {
    if ((await workbench?.page(reply)) !== true) page(reply, await source.job(params.job), jobPage)
    return reply
  })
  service.get('/jobs/*', async (_, reply) => {
    if ((await workbench?.page(reply)) !== true) sendPage(reply.code(404), notFoundPage())
    return reply
  })
  service.get<Named>('/jobs/:job/report', async ({ params }, reply) => {
    reply.header('content-security-policy', ofReport)
    return page(reply, await source.report(params.job), (report) => report)
  })
  service.get('/style.css', (_, reply) => reply.type('text/css; charset=utf-8').send(style))
  for (const path of ['/favicon.svg', '/favicon.ico'])
    service.get(path, (_, reply) => reply.type('image/svg+xml').send(favicon))
  service.setNotFoundHandler(async ({ method, url }, reply) => {
    const isAsked = method === 'GET' || method === 'HEAD'
    const path = url.split('?')[0] ?? ''
    if (!isAsked || (await workbench?.file(reply, path)) !== true) sendPage(reply.code(404), notFoundPage())
    return reply
  })
  return service
}

/** Names may be 200 characters long, each up to four bytes, each byte three characters in an address. */
const longestName = 2400

interface Named {
  Params: { job: string }
}

const headers = {
  'content-security-policy': own,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-resource-policy': 'same-origin',
  'cross-origin-opener-policy': 'same-origin',
  'cache-control': 'no-store'
}

const sendOtherHost = ({ url, headers: { host } }: FastifyRequest, reply: FastifyReply): FastifyReply =>
  url.startsWith('/api/')
    ? sendRefusals(reply, 421, [otherHost(host)])
    : reply.code(421).type('text/plain').send('This is not the host you asked for.\n')

const sendPage = (reply: FastifyReply, text: string): FastifyReply => reply.type('text/html; charset=utf-8').send(text)

function page<T>(reply: FastifyReply, found: Result<T | undefined>, write: (value: T) => string): FastifyReply {
  if (isRefusal(found))
    return sendPage(reply.code(statusOf(found)).header('content-security-policy', own), refusalPage(found))
  if (found === undefined) return sendPage(reply.code(404).header('content-security-policy', own), notFoundPage())
  return sendPage(reply, write(found as T))
}

import { isRefusal } from '@trueloop/ground/refusal'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { z } from 'zod'
import { dropCookie, setCookie, tokenIn } from '../desk/cookie.ts'
import type { Desk } from '../desk/desk.ts'
import { described } from './described.ts'
import { noJob, sendRefusals } from './refused.ts'
import { pace, refusals, type Statement, session, signingIn, stated, statement } from './schemas/index.ts'
import { sendNo } from './where.ts'

const job = z.string().describe('number of the job')
const no = Object.fromEntries([400, 401, 403, 404, 409, 413, 415, 421, 422, 500, 503].map((one) => [one, refusals]))

/** Where people sign in, and state what they decide. A statement is signed with their key. */
export function deskRoutes(instance: FastifyInstance, desk: Desk): void {
  // reading is using, so that a key is not locked under the eyes of its owner; to ask for the session itself is not
  instance.addHook('onRequest', async (request) => {
    if (request.routeOptions.url !== '/api/session') desk.sessions.use(tokenIn(request.headers))
  })
  sessionRoutes(instance, desk)
  instance.get('/jobs/:job/pace', {
    schema: {
      ...described('pace', 'When people have decided today, and how long without a break'),
      ...{ params: z.object({ job }), response: { 200: pace, ...no } }
    },
    handler: async (request, reply) => {
      const { job: asked } = request.params as { readonly job: string }
      const found = await desk.pace(asked)
      if (found === undefined) return sendRefusals(reply, 404, [noJob(asked)])
      return isRefusal(found) ? sendNo(reply, found) : reply.send(found)
    }
  })
  instance.get('/service', {
    schema: {
      ...described('service', 'Which process answers here'),
      response: { 200: z.object({ pid: z.number().int().describe('number of the process on this computer') }), ...no }
    },
    handler: (_, reply) => reply.send({ pid: process.pid })
  })
  instance.post('/jobs/:job/statements', {
    schema: {
      ...described('state', 'States what a person decides, signed; sent twice it is recorded once'),
      ...{ params: z.object({ job }), body: statement, response: { 200: stated, ...no } }
    },
    handler: async (request, reply) => {
      const { job: asked } = request.params as { readonly job: string }
      const done = await desk.state(asked, request.body as Statement, tokenIn(request.headers))
      if (done === undefined) return sendRefusals(reply, 404, [noJob(asked)])
      return isRefusal(done) ? sendNo(reply, done) : reply.send(done)
    }
  })
}

function sessionRoutes(instance: FastifyInstance, desk: Desk): void {
  const view = async (reply: FastifyReply, token: string | undefined) => {
    const seen = await desk.view(token)
    return isRefusal(seen) ? sendNo(reply, seen) : reply.send(seen)
  }
  const answers = { 200: session, ...no }
  instance.get('/session', {
    schema: { ...described('session', 'Who has signed in here, and who may'), response: answers },
    handler: (request, reply) => view(reply, tokenIn(request.headers))
  })
  instance.post('/session', {
    schema: {
      ...described('signIn', "Opens a person's key, in the memory of this service"),
      ...{ body: signingIn, response: answers }
    },
    handler: async (request: FastifyRequest, reply) => {
      const { name, passphrase } = request.body as z.output<typeof signingIn>
      const opened = await desk.signIn(name, passphrase)
      if (isRefusal(opened)) return sendNo(reply, opened)
      desk.sessions.lock(tokenIn(request.headers))
      reply.header('set-cookie', setCookie(request.headers.host, opened.token))
      return view(reply, opened.token)
    }
  })
  instance.delete('/session', {
    schema: { ...described('lock', 'Locks the key'), response: answers },
    handler: (request, reply) => {
      desk.sessions.lock(tokenIn(request.headers))
      reply.header('set-cookie', dropCookie(request.headers.host))
      return view(reply, undefined)
    }
  })
}

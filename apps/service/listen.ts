import type { FastifyInstance } from 'fastify'

const host = '127.0.0.1'
const tries = 20

/** Listens on loopback only. A taken port moves on to the next; after so many, any free one. Gives the address. */
export async function listenFrom(service: FastifyInstance, port: number): Promise<string> {
  for (let at = 0; at < tries && port + at <= 65_535 && port > 0; at++) {
    const address = await tryPort(service, port + at)
    if (address !== undefined) return address
  }
  return service.listen({ host, port: 0 })
}

async function tryPort(service: FastifyInstance, port: number): Promise<string | undefined> {
  try {
    return await service.listen({ host, port })
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    if (code !== 'EADDRINUSE' && code !== 'EACCES') throw error
    return undefined
  }
}

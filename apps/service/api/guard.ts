import type { FastifyReply, FastifyRequest } from 'fastify'
import { otherSite, sendRefusals } from './refused.ts'

/**
 * Only pages of this service and programs of this computer are answered. A page elsewhere may send requests here: browsers
 * say where such requests come from, programs say nothing.
 * Another port of this computer is another site. Source: Fetch Metadata Request Headers (W3C), and RFC 6454 for Origin.
 */
export async function guard({ headers, method }: FastifyRequest, reply: FastifyReply): Promise<void> {
  const { host, origin, 'sec-fetch-site': site } = headers
  if (!isOwnOrigin(origin, host)) await sendRefusals(reply, 403, [otherSite(origin ?? '')])
  else if (!isOwnSite(site, method === 'GET' || method === 'HEAD'))
    await sendRefusals(reply, 403, [otherSite('another site')])
}

const isOwnOrigin = (origin: string | undefined, host: string | undefined): boolean =>
  origin === undefined || origin === `http://${host}`

/** "none": a person typed the address, which only reads. */
const isOwnSite = (site: string | string[] | undefined, reads: boolean): boolean =>
  site === undefined || site === 'same-origin' || (reads && site === 'none')

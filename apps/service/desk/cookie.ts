/**
 * The cookie of a session. Browsers keep cookies by host and not by port, so that two services on this computer have
 * names of their own. Not `Secure`: the address is http on loopback. source: rfc6265, 8.5
 */
export const cookieName = (host: string | undefined): string => `trueloop-${/:(\d+)$/.exec(host ?? '')?.[1] ?? '80'}`

const attributes = 'Path=/api; HttpOnly; SameSite=Strict'

export const setCookie = (host: string | undefined, token: string): string =>
  `${cookieName(host)}=${token}; ${attributes}`

export const dropCookie = (host: string | undefined): string => `${cookieName(host)}=; Max-Age=0; ${attributes}`

/** The token that a request brings. */
export function tokenIn({
  cookie,
  host
}: {
  readonly cookie?: string | undefined
  readonly host?: string | undefined
}) {
  const pairs = (cookie ?? '').split(';').map((pair) => pair.trim())
  const own = `${cookieName(host)}=`
  return pairs.find((pair) => pair.startsWith(own))?.slice(own.length) || undefined
}

import { Ajv2020 } from 'ajv/dist/2020.js'

/** The OpenAPI document as a judge of answers: JSON Schema 2020-12 by a validator of other people (ajv). */
export function contractOf(
  document: object
): (path: string, status: number, body: unknown, method?: string) => readonly string[] {
  // the document around its schemas has words that are no keywords of JSON Schema
  const ajv = new Ajv2020({ strict: false, allErrors: true })
  ajv.addSchema(document, 'openapi')
  return (path, status, body, method = 'get') => {
    const place = ['paths', path, method, 'responses', String(status), 'content', 'application/json', 'schema']
    const check = ajv.compile({ $ref: `openapi#/${place.map(pointer).join('/')}` })
    return check(body) ? [] : (check.errors ?? []).map((one) => `${one.instancePath} ${one.message}`)
  }
}

/** RFC 6901, and then as a part of an address. */
const pointer = (part: string): string => encodeURIComponent(part.replaceAll('~', '~0').replaceAll('/', '~1'))

import swagger from '@fastify/swagger'
import type { FastifyInstance } from 'fastify'
import { jsonSchemaTransform, jsonSchemaTransformObject } from 'fastify-type-provider-zod'
import { z } from 'zod'
import {
  intakeFile,
  jobBrief,
  jobSummary,
  pace,
  placeDetail,
  refusals,
  session,
  signingIn,
  stated,
  statement,
  storedExamination,
  watch,
  watching
} from './schemas/index.ts'

/** Nouns that have a name of their own in the document; in the registry that also holds what `describe` says. */
const nouns = {
  ...{ Pace: pace, IntakeFile: intakeFile, Watch: watch, Watching: watching },
  ...{ Session: session, SigningIn: signingIn, Statement: statement, Stated: stated },
  ...{ JobBrief: jobBrief, JobSummary: jobSummary, PlaceDetail: placeDetail, StoredExamination: storedExamination },
  Refusals: refusals
}
for (const [id, noun] of Object.entries(nouns)) z.globalRegistry.add(noun, { ...z.globalRegistry.get(noun), id })

const about = {
  title: 'Trueloop',
  version: '1',
  description:
    'The record on this computer, and what people state of it. Units stand in the names; nothing that was not examined is told as nothing found: read "missing", "why" and "zones" before "indications".'
}

/** The library names every noun a second time for requests that send one; here both are the same. */
function namedOnce<Document extends object>(twice: Document): Document {
  const document = JSON.parse(
    JSON.stringify(twice).replaceAll(/(#\/components\/schemas\/\w+)Input"/g, '$1"')
  ) as Document
  const { components } = document as { readonly components?: { readonly schemas?: Readonly<Record<string, object>> } }
  const answers = Object.entries(components?.schemas ?? {}).filter(([name]) => !name.endsWith('Input'))
  return { ...document, components: { ...components, schemas: Object.fromEntries(answers) } }
}

/** Gathers the routes that are added after it into one OpenAPI document. 3.1, whose schemas are JSON Schema itself. */
export async function describeRoutes(api: FastifyInstance): Promise<void> {
  await api.register(swagger, {
    openapi: { openapi: '3.1.0', info: about },
    transform: jsonSchemaTransform,
    transformObject: (found) => namedOnce(jsonSchemaTransformObject(found))
  })
}

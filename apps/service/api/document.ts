import swagger from '@fastify/swagger'
import type { FastifyInstance } from 'fastify'
import { createJsonSchemaTransform, createJsonSchemaTransformObject } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { jobBrief, jobSummary, placeDetail, refusals, storedExamination } from './schemas/index.ts'

/** Nouns that have a name of their own in the document. */
const schemaRegistry = z.registry<{ id: string }>()
schemaRegistry.add(jobBrief, { id: 'JobBrief' })
schemaRegistry.add(jobSummary, { id: 'JobSummary' })
schemaRegistry.add(placeDetail, { id: 'PlaceDetail' })
schemaRegistry.add(storedExamination, { id: 'StoredExamination' })
schemaRegistry.add(refusals, { id: 'Refusals' })

const about = {
  title: 'Trueloop',
  version: '1',
  description:
    'The record, read only, on this computer. Units stand in the names; nothing that was not examined is told as nothing found: read "missing", "why" and "zones" before "indications".'
}

/** Gathers the routes that are added after it into one OpenAPI document. 3.1, whose schemas are JSON Schema itself. */
export async function describeRoutes(api: FastifyInstance): Promise<void> {
  await api.register(swagger, {
    openapi: { openapi: '3.1.0', info: about },
    transform: createJsonSchemaTransform({ schemaRegistry }),
    transformObject: createJsonSchemaTransformObject({ schemaRegistry })
  })
}

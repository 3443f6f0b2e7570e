/** What a client of the service needs: the types of its answers, made from the OpenAPI document. Nothing of it runs. */
export type { components, paths } from '../api/client-types.ts'

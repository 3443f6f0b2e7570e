export { archiveSource } from './archive-source.ts'
export { listenFrom } from './listen.ts'
export { buildService } from './service.ts'
export type { RecordSource } from './source.ts'

export { html, type Page } from './html.ts'
export { reportHtml } from './report.ts'

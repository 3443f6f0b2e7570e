import { reportHtml, reportPdf } from '@trueloop/host/press'
import { largeReport } from '@trueloop/job/record/testing'

/** `report.entry HOLES`: one report of an invented job of so many holes, as HTML and as PDF; times on the last line. */
const holes = Number(process.argv[2] ?? 2000)

const input = largeReport(holes)
const seconds = () => performance.now() / 1000
const start = process.cpuUsage()
const cpuBefore = (start.user + start.system) / 1e6
const from = seconds()
const html = reportHtml(input)
const between = seconds()
const pdf = await reportPdf(input, [])
const to = seconds()
if ('refused' in pdf) throw new Error(pdf.found)
const pages =
  Buffer.from(pdf)
    .toString('latin1')
    .match(/\/Type\s*\/Page\b/g)?.length ?? 0
const { user, system } = process.cpuUsage()
const cpu_s = (user + system) / 1e6 - cpuBefore
const html_s = between - from
const pdf_s = to - between
const peak_MiB = process.resourceUsage().maxRSS / 1024
console.log(
  JSON.stringify({ holes, html_s, pdf_s, cpu_s, htmlBytes: html.length, pdfBytes: pdf.length, pages, peak_MiB })
)

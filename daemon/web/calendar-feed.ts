import type { FastifyInstance } from "fastify";
import { dueCalendar } from "../due/calendar.js";
import { gatherYear } from "../due/gather-due.js";
import { mailDomainOf } from "../letters/message-id.js";
import { CALENDAR } from "./address.js";
import type { PagePorts } from "./app.js";
import { isCalendarKey } from "./calendar-key.js";

/**
 * What is due, for calendars that subscribe. They can't keep a session, so a secret in the address
 * stands in for one; it opens this and nothing else.
 */
export function serveCalendar(app: FastifyInstance, { store, config, clock }: PagePorts): void {
  app.get<{ Params: { key: string } }>(`${CALENDAR}/:key/due.ics`, (request, reply) => {
    if (!isCalendarKey(store, request.params.key)) {
      reply.code(404).type("text/plain; charset=utf-8").send("There is no such calendar.\n");
      return;
    }
    const nowMs = clock.nowMs();
    const year = gatherYear(store, config, nowMs);
    const domain = mailDomainOf(config.mail?.from ?? null);
    reply
      .type("text/calendar; charset=utf-8")
      .header("content-disposition", 'inline; filename="due.ics"')
      .send(dueCalendar(year, config.site, domain, nowMs));
  });
}

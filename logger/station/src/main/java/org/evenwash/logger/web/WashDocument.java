package org.evenwash.logger.web;

import java.util.List;
import java.util.Map;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.protocol.Check;
import org.evenwash.analysis.threshold.Verdict;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.Correction;
import org.evenwash.logger.store.Operator;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.wash.PassSheet;
import org.evenwash.logger.wash.WashSheet;

/**
 * One wash as JSON: everything on its sheet, with the result in full digits and in words.
 *
 * @param verdict null while no threshold is chosen
 * @param together with the other washes of that day, by which the colony is judged; null without any
 */
record WashDocument(
        Wash wash,
        Colony colony,
        Apiary apiary,
        Operator operator,
        List<PassSheet> passes,
        Map<String, Object> infestation,
        String protocol,
        List<CheckLine> checks,
        VerdictLine verdict,
        Map<String, Object> together,
        List<StoredTicket> tickets,
        List<Correction> corrections,
        List<String> flags,
        boolean demonstration) {

    record CheckLine(String point, String outcome, String asked, String evidence, String source) {
        static CheckLine of(Check check) {
            return new CheckLine(
                    check.point().title(),
                    check.outcome().word(),
                    check.asked(),
                    check.evidence(),
                    check.source().toString());
        }
    }

    /**
     * @param threshold id of the threshold
     * @param edition of the threshold's source
     */
    record VerdictLine(String call, String words, String threshold, String edition) {
        static VerdictLine of(Verdict verdict) {
            if (verdict == null) {
                return null;
            }
            return new VerdictLine(
                    verdict.call().word(),
                    verdict.words(),
                    verdict.threshold().id(),
                    verdict.threshold().source().edition());
        }
    }

    static WashDocument of(WashSheet sheet) {
        return new WashDocument(
                sheet.wash(),
                sheet.colony(),
                sheet.apiary(),
                sheet.operator(),
                sheet.passes(),
                ResultDocument.of(sheet.infestation(), Quantity.INFESTATION, "per100Bees"),
                sheet.protocol().name() + ", " + sheet.protocol().edition(),
                sheet.checks().stream().map(CheckLine::of).toList(),
                VerdictLine.of(sheet.verdict()),
                sheet.together() == null
                        ? null
                        : SameDayDocument.of(sheet.together().day(), sheet.together().verdict()),
                sheet.tickets(),
                sheet.corrections(),
                sheet.flags(),
                sheet.demonstration());
    }
}

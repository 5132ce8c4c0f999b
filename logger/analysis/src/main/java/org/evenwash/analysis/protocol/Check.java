package org.evenwash.analysis.protocol;

import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * How a wash stands at one point of a protocol.
 *
 * @param asked the limit in words
 * @param evidence what is known, with numbers and units, and how it is known
 */
public record Check(Point point, Outcome outcome, String asked, String evidence, Source source) {

    /** From best to worst; not assessed stands outside the order of good and bad. */
    public enum Outcome {
        NOT_ASSESSED("not assessed"),
        PASS("pass"),
        CAUTION("caution"),
        FAIL("fail");

        private final String word;

        Outcome(String word) {
            this.word = word;
        }

        public String word() {
            return word;
        }
    }

    /** The worst outcome; {@link Outcome#NOT_ASSESSED} if nothing could be assessed. */
    public static Outcome worst(List<Check> checks) {
        return checks.stream()
                .map(Check::outcome)
                .max(Comparator.naturalOrder())
                .orElse(Outcome.NOT_ASSESSED);
    }

    static Check of(Rule rule, Optional<Fact> known) {
        if (known.isEmpty()) {
            return result(rule, Outcome.NOT_ASSESSED, "not recorded");
        }
        Fact fact = known.get();
        if (fact instanceof Fact.DoesNotApply) {
            return result(rule, Outcome.NOT_ASSESSED, fact.how());
        }
        if (fact instanceof Fact.Quantity quantity && rule.limit() instanceof Limit.Range range) {
            return result(
                    rule, of(range, quantity, rule.severity()), words(rule.point(), quantity));
        }
        if (fact instanceof Fact.NoFewer noFewer && rule.limit() instanceof Limit.Range range) {
            return result(
                    rule,
                    of(range, noFewer, rule.severity()),
                    "at least " + rule.point().counted(noFewer.least()) + how(fact));
        }
        if (fact instanceof Fact.Answer answer) {
            return result(
                    rule,
                    answer.yes() ? Outcome.PASS : miss(rule.severity()),
                    (answer.yes() ? "yes" : "no") + how(fact));
        }
        if (fact instanceof Fact.Choice choice && rule.limit() instanceof Limit.OneOf oneOf) {
            return result(
                    rule,
                    oneOf.words().contains(choice.word()) ? Outcome.PASS : miss(rule.severity()),
                    choice.word() + how(fact));
        }
        throw new IllegalStateException(
                rule.point().key() + " was recorded as the wrong kind of fact: " + fact);
    }

    /** A range of possible values that straddles the limit can be neither passed nor failed. */
    private static Outcome of(Limit.Range range, Fact.Quantity quantity, Rule.Severity severity) {
        if (range.holdsNone(quantity.lower(), quantity.upper())) {
            return miss(severity);
        }
        return range.holdsAll(quantity.lower(), quantity.upper()) ? Outcome.PASS : Outcome.CAUTION;
    }

    /** Enough is enough; whether too few or too many stays open. */
    private static Outcome of(Limit.Range range, Fact.NoFewer noFewer, Rule.Severity severity) {
        if (range.most().isPresent() && noFewer.least() > range.most().getAsDouble()) {
            return miss(severity);
        }
        return range.most().isEmpty() && range.holdsAll(noFewer.least(), noFewer.least())
                ? Outcome.PASS
                : Outcome.NOT_ASSESSED;
    }

    private static Outcome miss(Rule.Severity severity) {
        return switch (severity) {
            case FAIL -> Outcome.FAIL;
            case CAUTION -> Outcome.CAUTION;
        };
    }

    private static String words(Point point, Fact.Quantity quantity) {
        String number =
                quantity.lower() == quantity.upper()
                        ? point.counted(quantity.value())
                        : Numbers.plain(quantity.value())
                                + " (between "
                                + Numbers.plain(quantity.lower())
                                + " and "
                                + Numbers.plain(quantity.upper())
                                + ") "
                                + point.unit();
        return number + how(quantity);
    }

    private static String how(Fact fact) {
        return fact.how().isEmpty() ? "" : ", " + fact.how();
    }

    private static Check result(Rule rule, Outcome outcome, String evidence) {
        return new Check(
                rule.point(), outcome, rule.limit().words(rule.point()), evidence, rule.source());
    }
}

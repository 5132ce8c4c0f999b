package org.evenwash.logger.web;

import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.ResultText;
import org.evenwash.logger.wash.SpeedChecks;

/**
 * How a bench's displayed speed stands, with its shape and colour.
 *
 * @param tone class of the state colour
 */
public record SpeedLine(String tone, String shape, String text, boolean old) {

    public static SpeedLine of(SpeedChecks.Check check, Shell page) {
        String bias = page.formats().decimals(ResultText.of(check.bias(), Quantity.SPEED_BIAS));
        String allowed = page.formats().amount(check.allowed_percent());
        return switch (check.standing()) {
            case WITHIN ->
                    new SpeedLine(
                            "normal", "●", page.t("speed.within", bias, allowed), check.old());
            case UNDECIDED ->
                    new SpeedLine(
                            "abnormal", "◐", page.t("speed.undecided", bias, allowed), check.old());
            case OFF ->
                    new SpeedLine("abnormal", "▲", page.t("speed.off", bias, allowed), check.old());
            case UNKNOWN ->
                    new SpeedLine("neutral", "○", page.t("speed.unknown", bias), check.old());
        };
    }
}

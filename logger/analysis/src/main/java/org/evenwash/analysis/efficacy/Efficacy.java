package org.evenwash.analysis.efficacy;

import java.util.ArrayList;
import java.util.List;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.evenwash.analysis.numeric.Limits;

/**
 * Efficacy of a treatment in per cent, with limits fit for a claim. A negative efficacy (more mites
 * than expected) is given as it is; recovery cancels where it was equal before and after.
 */
public final class Efficacy {

    static final String NATURAL_CHANGE =
            "Without an untreated control this includes the natural change.";
    static final String NONE_LEFT =
            "No mite was found after treatment; what is certain is only the lower limit.";
    static final String FEW_BEFORE =
            "Fewer than 20 mites before treatment (or in the control): even a true 97 % would often"
                    + " leave a low lower limit. Wash more bees before the next treatment.";
    static final String FEW_COLONIES =
            "Fewer than 4 colonies in a group: the interval was not tried on so few.";

    static final String COUNTING_ONLY =
            "The interval holds the counting alone: how much colonies change by themselves is not seen"
                    + " from one untreated colony. Wash at least 2 untreated ones, better 4.";
    static final String SCATTER_BETWEEN_CONTROLS =
            "The interval holds the counting and how far the untreated colonies differ among"
                    + " themselves.";

    private static final int FEW_MITES = 20;
    private static final int TRIED_COLONIES = 4;

    private Efficacy() {}

    /** One colony beside an untreated one (Henderson–Tilton). */
    public static Result withControl(BeforeAfter treated, BeforeAfter control) {
        HendersonTilton fit = HendersonTilton.of(treated, control);
        return beside(treated, control, fit, fit.exact(), COUNTING_ONLY);
    }

    /** One colony beside as many untreated ones as there are, none included. */
    public static Result withControls(BeforeAfter treated, List<BeforeAfter> controls) {
        if (controls.size() < 2) {
            return controls.isEmpty()
                    ? withoutControl(treated)
                    : withControl(treated, controls.get(0));
        }
        BesideControls fit = BesideControls.of(treated, controls);
        return beside(
                treated,
                BesideControls.pooled(controls),
                fit.pooled(),
                fit.limits(),
                SCATTER_BETWEEN_CONTROLS);
    }

    private static Result beside(
            BeforeAfter treated,
            BeforeAfter control,
            HendersonTilton fit,
            Limits limits,
            String holds) {
        var remarks = new ArrayList<String>();
        if (treated.before().mites() < FEW_MITES || control.after().mites() < FEW_MITES) {
            remarks.add(FEW_BEFORE);
        }
        remarks.add(holds);
        if (treated.before().mites() == 0 || control.after().mites() == 0) {
            return onlyBounds(
                    limits, "mites before treatment and in the control afterwards", remarks);
        }
        if (control.before().mites() == 0) {
            remarks.add("No mite in the control before: ½ was added to every count.");
        }
        return answer(treated.after().mites(), fit.efficacy(), limits, remarks);
    }

    /** One colony before and after, without a control. */
    public static Result withoutControl(BeforeAfter treated) {
        return change(treated.before(), treated.after(), List.of(NATURAL_CHANGE));
    }

    /** Treated against untreated, both after treatment (Abbott). */
    public static Result againstControl(Wash control, Wash treated) {
        return change(
                control,
                treated,
                List.of("Assumes that both were equally infested before the treatment."));
    }

    /** Groups of colonies, each washed before and after, beside an untreated group. */
    public static Result ofGroups(List<BeforeAfter> treated, List<BeforeAfter> control) {
        int fewest = Math.min(treated.size(), control.size());
        if (fewest < 2) {
            return new NotEnoughData(
                    "at least 2 colonies in each group (now "
                            + treated.size()
                            + " treated and "
                            + control.size()
                            + " untreated)");
        }
        var remarks = new ArrayList<String>();
        if (mitesBefore(treated) == 0 || mitesAfter(control) == 0) {
            return new NotEnoughData("mites before treatment and in the control afterwards");
        }
        return group(GroupEfficacy.of(treated, control), fewest, mitesAfter(treated), remarks);
    }

    /** A group of treated colonies without a control. */
    public static Result ofGroupWithoutControl(List<BeforeAfter> treated) {
        if (treated.size() < 2) {
            return new NotEnoughData("at least 2 colonies (now " + treated.size() + ")");
        }
        if (mitesBefore(treated) == 0) {
            return new NotEnoughData("mites before treatment");
        }
        var remarks = new ArrayList<>(List.of(NATURAL_CHANGE));
        return group(
                GroupEfficacy.withoutControl(treated),
                treated.size(),
                mitesAfter(treated),
                remarks);
    }

    private static Result group(
            GroupEfficacy fit, int colonies, long mitesAfter, List<String> remarks) {
        if (colonies < TRIED_COLONIES) {
            remarks.add(FEW_COLONIES);
        }
        return answer(mitesAfter, fit.efficacy(), fit.limits(), remarks);
    }

    private static Result change(Wash before, Wash after, List<String> always) {
        var remarks = new ArrayList<>(always);
        if (before.mites() < FEW_MITES) {
            remarks.add(FEW_BEFORE);
        }
        RateChange change = RateChange.of(before, after);
        return before.mites() == 0
                ? onlyBounds(change.limits(), "mites in the wash to compare with", remarks)
                : answer(after.mites(), change.efficacy(), change.limits(), remarks);
    }

    /** Nothing found after treatment is never shown as "100 %", only as its lower limit. */
    private static Result answer(
            long mitesAfter, double efficacy, Limits limits, List<String> remarks) {
        if (mitesAfter > 0) {
            return new Estimate(
                    efficacy,
                    Math.min(efficacy, limits.lower()),
                    Math.max(efficacy, limits.upper()),
                    remarks);
        }
        if (Double.isInfinite(limits.lower())) {
            return new NotEnoughData("more mites before treatment", remarks);
        }
        remarks.add(NONE_LEFT);
        return new Bound(Side.AT_LEAST, limits.lower(), remarks);
    }

    /** The point estimate would divide by zero; the limits may still say something on one side. */
    private static Result onlyBounds(Limits limits, String needs, List<String> remarks) {
        return limits.upper() < 100
                ? new Bound(Side.AT_MOST, limits.upper(), remarks)
                : new NotEnoughData(needs, remarks);
    }

    private static long mitesBefore(List<BeforeAfter> group) {
        return group.stream().mapToLong(colony -> colony.before().mites()).sum();
    }

    private static long mitesAfter(List<BeforeAfter> group) {
        return group.stream().mapToLong(colony -> colony.after().mites()).sum();
    }
}

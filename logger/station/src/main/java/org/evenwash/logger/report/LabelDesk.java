package org.evenwash.logger.report;

import java.net.URI;
import java.net.URISyntaxException;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Apiary;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.DayPlan;
import org.evenwash.logger.store.DayPlans;
import org.evenwash.logger.wash.Refused;
import org.evenwash.logger.wash.Workplace;
import org.evenwash.record.Ids;

/** Makes the words of labels: for colonies, and for the jars of a day's work. */
public final class LabelDesk {
    /** Some sheets; more in one go is a mistake. */
    public static final int MOST = 1_000;

    private static final int LONGEST_ADDRESS = 200;

    private final Workplace place;
    private final Wording wording;
    private final String address;

    /**
     * @param address where phones find this logger, such as {@code http://logger.local:8080}
     * @throws Refused if it is none
     */
    public LabelDesk(Workplace place, Wording wording, String address) {
        this.place = place;
        this.wording = wording;
        this.address = checked(address);
    }

    /** The address without a slash at its end. */
    public static String checked(String address) {
        String text = address == null ? "" : address.strip().replaceAll("/+$", "");
        try {
            URI uri = new URI(text);
            boolean web = "http".equals(uri.getScheme()) || "https".equals(uri.getScheme());
            if (web
                    && uri.getHost() != null
                    && uri.getQuery() == null
                    && uri.getFragment() == null
                    && uri.getUserInfo() == null
                    && text.length() <= LONGEST_ADDRESS) {
                return text;
            }
        } catch (URISyntaxException e) {
            throw bad(text);
        }
        throw bad(text);
    }

    private static Refused bad(String text) {
        return Refused.invalid(
                "address",
                "reads '" + (text.length() > 60 ? text.substring(0, 60) + "…" : text) + "'",
                "write where phones find this logger, such as http://logger.local:8080");
    }

    /** Whether only this computer can follow such an address. */
    public static boolean loopback(String address) {
        return address.matches("https?://(localhost|127\\.[0-9.]+|\\[::1\\])(:\\d+)?(/.*)?");
    }

    /** In the order of the ids. */
    public List<Label> colonies(List<UUID> ids) {
        List<Label> labels = new ArrayList<>();
        for (UUID id : ids) {
            Colony colony = place.yard().colony(id);
            Apiary apiary = place.yard().apiary(colony.apiaryId());
            labels.add(
                    new Label(
                            address + "/colonies/" + id,
                            colony.name(),
                            List.of(apiary.name(), Ids.shown(id))));
        }
        return labels;
    }

    /** One for each wash of the list that is asked for, in the order of the work. */
    public List<Label> jars(UUID planId, List<UUID> washes) {
        DayPlan plan = place.days().plan(planId);
        Apiary apiary = place.yard().apiary(plan.apiaryId());
        List<Label> labels = new ArrayList<>();
        for (DayPlans.Step step : place.days().steps(planId)) {
            if (washes.contains(step.washId())) {
                List<String> lines = new ArrayList<>();
                lines.add(apiary.name());
                lines.add(wording.day(plan.onDay()));
                lines.add(
                        wording.say("label.ordinal", step.ordinal())
                                + (step.position() == null
                                        ? ""
                                        : ", " + wording.say("label.jar", step.position())));
                lines.add(Ids.shown(step.washId()));
                labels.add(new Label(address + "/washes/" + step.washId(), step.colony(), lines));
            }
        }
        return labels;
    }
}

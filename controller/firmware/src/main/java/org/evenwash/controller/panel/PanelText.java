package org.evenwash.controller.panel;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;
import org.evenwash.controller.process.Interlock;
import org.evenwash.controller.process.Meaning;
import org.evenwash.controller.process.Position;
import org.evenwash.controller.process.State;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.process.Step;
import org.evenwash.record.PlainText;

/** A status in words for a terminal: nothing is said by colour alone. */
public final class PanelText {
    private static final int BAR = 30;
    private static final String ESCAPE = "\u001b[";
    private static final String PLAIN = ESCAPE + "0m";

    private PanelText() {}

    /** All of it in one line, as for a log. */
    public static String line(Status s) {
        if (s == null) {
            return "starting";
        }
        StringBuilder text = new StringBuilder(s.state().name());
        if (s.bout() > 0) {
            text.append(" bout %d of %d, %s".formatted(s.bout(), s.bouts(), step(s)));
            text.append(String.format(Locale.ROOT, ", %.0f rpm", speed(s)));
            text.append(", ").append(clock(s.left())).append(" left");
        }
        if (s.cause() != null) {
            text.append(", because of ").append(s.cause());
        }
        if (!s.refused().isEmpty()) {
            text.append(", start refused: ");
            text.append(s.refused().stream().map(r -> r.tag()).collect(Collectors.joining(", ")));
        }
        return text.toString();
    }

    /**
     * The panel, line by line.
     *
     * @param ticket the loaded tickets in words; empty without one
     * @param colour false for a terminal that has none, or for a person who wants none
     */
    public static List<String> lines(Status s, List<String> ticket, String keys, boolean colour) {
        List<String> lines = new ArrayList<>();
        lines.add(lamp(s.lamp(), colour) + "  " + s.state() + (s.needsOperator() ? "  (!)" : ""));
        lines.add("");
        if (s.recipe() == null) {
            lines.add("Recipe    none");
        } else {
            lines.add(
                    "Recipe    %s, version %d, %s agitation in %d bouts, %s in all"
                            .formatted(
                                    PlainText.of(s.recipe().name()),
                                    s.recipe().version(),
                                    clock(s.recipe().totalAgitation()),
                                    s.recipe().boutCount(),
                                    clock(s.recipe().total())));
        }
        if (ticket.isEmpty()) {
            lines.add("Ticket    none: the record can be tied to a wash later");
        }
        ticket.forEach(t -> lines.add("Ticket    " + PlainText.of(t)));
        lines.add("Jars      " + jars(s.positions()));
        lines.add("");
        if (s.bout() > 0) {
            lines.add("Bout      %d of %d, %s".formatted(s.bout(), s.bouts(), step(s)));
            lines.add("          " + bar(s));
            lines.add("Left      " + clock(s.left()));
        }
        lines.add(
                String.format(
                        Locale.ROOT,
                        "Speed     %.0f rpm, asked for %.0f",
                        speed(s),
                        s.setpoint_rpm()));
        interlocks(s, lines);
        if (!s.prompt().isEmpty()) {
            lines.add("");
            lines.add("To do     " + s.prompt());
        }
        lines.add("");
        lines.add(keys);
        return lines;
    }

    private static void interlocks(Status s, List<String> lines) {
        for (Interlock row : s.tripped()) {
            String first = row.tag().equals(s.cause()) ? " (first cause)" : "";
            lines.add("Tripped   " + row.tag() + ": " + row.when() + first);
        }
        for (Interlock row : s.againstStart()) {
            if (!s.tripped().contains(row)) {
                lines.add("No start  " + row.tag() + ": " + row.when());
            }
        }
        if (s.state() == State.IDLE && s.againstStart().isEmpty()) {
            lines.add("Clear to start");
        }
    }

    private static String lamp(Meaning meaning, boolean colour) {
        String words =
                "[%s: %s]"
                        .formatted(
                                meaning.colour().name().toLowerCase(Locale.ROOT), meaning.words());
        return colour ? ESCAPE + code(meaning.colour()) + "m" + words + PLAIN : words;
    }

    /** ANSI foreground codes (ECMA-48, SGR 30 to 37). */
    private static int code(Meaning.Colour colour) {
        return switch (colour) {
            case RED -> 31;
            case GREEN -> 32;
            case YELLOW -> 33;
            case BLUE -> 34;
            case WHITE -> 37;
        };
    }

    private static String bar(Status s) {
        double whole_s = s.boutAgitated().plus(s.boutLeft()).toMillis() / 1e3;
        double done = whole_s <= 0 ? 0 : s.boutAgitated().toMillis() / 1e3 / whole_s;
        int marks = (int) Math.round(BAR * Math.min(1, done));
        return "[" + "#".repeat(marks) + ".".repeat(BAR - marks) + "] " + clock(s.boutAgitated());
    }

    private static String step(Status s) {
        return s.state() == State.RUNNING && s.step() != Step.NONE
                ? s.step().name().toLowerCase(Locale.ROOT)
                : "motor " + (s.setpoint_rpm() > 0 ? "slowing" : "off");
    }

    private static double speed(Status s) {
        return Double.isNaN(s.speed_rpm()) ? 0 : s.speed_rpm();
    }

    private static String jars(List<Position> positions) {
        return positions.isEmpty()
                ? "none"
                : positions.stream()
                        .map(
                                p ->
                                        "position %d (%s pass)"
                                                .formatted(
                                                        p.position(),
                                                        p.pass().name().toLowerCase(Locale.ROOT)))
                        .collect(Collectors.joining(", "));
    }

    private static String clock(Duration time) {
        return "%d:%02d".formatted(time.toMinutes(), time.toSecondsPart());
    }
}

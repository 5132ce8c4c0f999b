package org.evenwash.controller.panel;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import java.util.function.Predicate;
import java.util.function.Supplier;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.Status;

/**
 * The panel in a terminal: shows the machine a few times a second and takes the bench's buttons as
 * keys. On a real bench START and RESTART are taken only from a keyboard that is plugged into it: a
 * terminal from afar may hold and stop, and never start.
 */
public final class TerminalPanel {
    private static final String KEYS =
            "s start   h hold   r restart   x stop   e reset   a acknowledge   w near flash point\n"
                    + "j same jar again   2 second wash   p proof test   m silence   q quit";
    private static final String FROM_AFAR =
            "START and RESTART are taken only at the bench: at its buttons, or a keyboard plugged into it.";
    private static final String TOO_MANY =
            "Too many keys at once: that one was not taken. Press it again.";
    private static final String HOME_AND_CLEAR = "\u001b[H\u001b[J";
    private static final long REDRAW_MS = 250;
    private static final int END = -1;

    private final PrintStream out;
    private final Supplier<Status> status;
    private final Supplier<List<String>> tickets;
    private final Predicate<Command> press;
    private final Predicate<Choice> choose;
    private final boolean mayStart;
    private final boolean colour;
    private String notice = "";

    /**
     * @param press presses a button; false when too many presses wait already
     * @param choose likewise a choice
     * @param mayStart whether START and RESTART are taken here
     * @param colour whether to use ANSI codes at all
     */
    public TerminalPanel(
            PrintStream out,
            Supplier<Status> status,
            Supplier<List<String>> tickets,
            Predicate<Command> press,
            Predicate<Choice> choose,
            boolean mayStart,
            boolean colour) {
        this.out = out;
        this.status = status;
        this.tickets = tickets;
        this.press = press;
        this.choose = choose;
        this.mayStart = mayStart;
        this.colour = colour;
    }

    /** Draws and reads keys until {@code q}, the end of the input, or {@code over}. */
    public void run(InputStream in, BooleanSupplier over) throws IOException, InterruptedException {
        String last = "";
        while (!over.getAsBoolean()) {
            String page = page();
            if (!page.equals(last)) {
                out.print(page);
                out.flush();
                last = page;
            }
            for (int left = in.available(); left > 0; left--) {
                int key = in.read();
                if (key == END || key == 'q') {
                    return;
                }
                pressed((char) key);
            }
            TimeUnit.MILLISECONDS.sleep(REDRAW_MS);
        }
    }

    private String page() {
        Status now = status.get();
        if (now == null) {
            return "";
        }
        List<String> lines = PanelText.lines(now, tickets.get(), KEYS, colour);
        String text = String.join("\n", lines) + "\n" + (notice.isEmpty() ? "" : notice + "\n");
        return colour ? HOME_AND_CLEAR + text : text + "\n";
    }

    private void pressed(char key) {
        notice = "";
        switch (key) {
            case 's' -> start(Command.START);
            case 'r' -> start(Command.RESTART);
            case 'h' -> press(Command.HOLD);
            case 'x' -> press(Command.STOP);
            case 'e' -> press(Command.RESET);
            case 'a' -> choose(Choice.ACKNOWLEDGE_CAUTIONS);
            case 'w' -> choose(Choice.ACKNOWLEDGE_WARM_SPIRIT);
            case 'j' -> choose(Choice.SAME_JAR_AGAIN);
            case '2' -> choose(Choice.SECOND_WASH);
            case 'p' -> choose(Choice.PROOF_TEST);
            case 'm' -> choose(Choice.SILENCE);
            case '\n', '\r', ' ' -> notice = "";
            default -> notice = "No button has the key '" + key + "'.";
        }
    }

    private void start(Command command) {
        if (mayStart) {
            press(command);
        } else {
            notice = FROM_AFAR;
        }
    }

    private void press(Command command) {
        notice = press.test(command) ? "" : TOO_MANY;
    }

    private void choose(Choice choice) {
        notice = choose.test(choice) ? "" : TOO_MANY;
    }
}

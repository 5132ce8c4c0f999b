package org.evenwash.controller.panel;

import static java.time.Duration.ofSeconds;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import org.evenwash.controller.process.Choice;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.Recipes;
import org.evenwash.controller.process.Settings;
import org.evenwash.controller.process.Status;
import org.evenwash.controller.sim.SimulatedBench;
import org.junit.jupiter.api.Test;

class PanelTextTest {
    private static final char ESCAPE = '\u001b';

    @Test
    void beforeStart_recipeAndTicketAreShown() {
        Status ready = SimulatedBench.ready(Recipes.TWO_MINUTES_IN_THREE_BOUTS).status();

        assertThat(lines(ready, List.of("position 1: Linden 3, first pass")))
                .contains("Two minutes in three bouts, version 1, 2:00 agitation in 3 bouts")
                .contains("Ticket    position 1: Linden 3, first pass")
                .contains("Clear to start");
    }

    @Test
    void whileItRuns_boutTimeLeftAndSpeedAreShown() {
        Status running =
                SimulatedBench.running(Recipes.TWO_MINUTES_IN_THREE_BOUTS)
                        .advance(ofSeconds(20))
                        .status();

        assertThat(lines(running, List.of()))
                .contains("Bout      1 of 3, agitate")
                .contains("[###############...............] 0:20")
                .contains("Left      2:40")
                .containsPattern("Speed     1[78]\\d rpm, asked for 180");
    }

    @Test
    void openLid_isNamedAsTheFirstCause_withWhatToDo() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS);
        Status held = bench.advance(ofSeconds(5)).openLid().advance(ofSeconds(5)).status();

        assertThat(lines(held, List.of()))
                .contains("Tripped   LID-OPEN: lid open (first cause)")
                .contains("To do     close the lid");
    }

    @Test
    void coldBench_saysEverythingThatStandsAgainstAStart() {
        Status cold = SimulatedBench.cold(Settings.DEFAULTS, 1).status();

        assertThat(lines(cold, List.of()))
                .contains("No start  CAUTIONS", "No start  PROOF-TEST-DUE", "No start  SUPPLY-OFF");
    }

    @Test
    void withoutColour_nothingButPlainTextIsWritten_andTheMeaningIsInWords() {
        Status status = SimulatedBench.ready(Recipes.TWENTY_SECONDS).status();

        assertThat(lines(status, List.of())).doesNotContain(ESCAPE + "").contains("[white: ready]");
        assertThat(String.join("\n", PanelText.lines(status, List.of(), "", true)))
                .contains(ESCAPE + "[37m");
    }

    @Test
    void keys_areTheBenchsButtons() throws Exception {
        List<Object> pressed = new ArrayList<>();
        terminal(true, pressed, "sha2q");

        assertThat(pressed)
                .containsExactly(
                        Command.START,
                        Command.HOLD,
                        Choice.ACKNOWLEDGE_CAUTIONS,
                        Choice.SECOND_WASH);
    }

    @Test
    void terminalFromAfar_mayStopAndNeverStart() throws Exception {
        List<Object> pressed = new ArrayList<>();
        terminal(false, pressed, "srxq");

        assertThat(pressed).containsExactly(Command.STOP);
    }

    @Test
    void keyThatIsNotTaken_isSaid() throws Exception {
        Status status = SimulatedBench.ready(Recipes.TWENTY_SECONDS).status();
        ByteArrayOutputStream page = new ByteArrayOutputStream();
        PrintStream out = new PrintStream(page, true, StandardCharsets.UTF_8);
        AtomicInteger looks = new AtomicInteger();
        new TerminalPanel(out, () -> status, List::of, c -> false, c -> true, true, false)
                .run(
                        new ByteArrayInputStream("x".getBytes(StandardCharsets.UTF_8)),
                        () -> looks.incrementAndGet() > 2);

        assertThat(page.toString(StandardCharsets.UTF_8)).contains("that one was not taken");
    }

    private static void terminal(boolean mayStart, List<Object> pressed, String keys)
            throws Exception {
        Status status = SimulatedBench.ready(Recipes.TWENTY_SECONDS).status();
        PrintStream out =
                new PrintStream(new ByteArrayOutputStream(), true, StandardCharsets.UTF_8);
        new TerminalPanel(out, () -> status, List::of, pressed::add, pressed::add, mayStart, false)
                .run(new ByteArrayInputStream(keys.getBytes(StandardCharsets.UTF_8)), () -> false);
    }

    private static String lines(Status status, List<String> tickets) {
        return String.join("\n", PanelText.lines(status, tickets, "", false));
    }
}

package org.evenwash.controller;

import static java.time.Duration.ofMinutes;
import static java.time.Duration.ofSeconds;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.networknt.schema.InputFormat;
import com.networknt.schema.SchemaRegistry;
import com.networknt.schema.SpecificationVersion;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.UUID;
import org.evenwash.controller.config.RecipeSheets;
import org.evenwash.controller.process.Command;
import org.evenwash.controller.process.CycleEvidence;
import org.evenwash.controller.process.Entry;
import org.evenwash.controller.process.Recipe;
import org.evenwash.controller.process.Recipes;
import org.evenwash.controller.process.State;
import org.evenwash.controller.sim.SimulatedBench;
import org.evenwash.record.BenchEvent;
import org.evenwash.record.CycleRecord;
import org.evenwash.record.Message;
import org.evenwash.record.Messages;
import org.evenwash.record.Outcome;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** What the machine tells, as the published contract has it. */
class ContractTranslationTest {
    private static final UUID OUTBOX = new UUID(7, 7);

    private final ContractTranslation translation =
            new ContractTranslation(
                    new ContractTranslation.Identity("bench-1", new UUID(1, 2), true, "test"));

    static List<Recipe> shipped() {
        return Recipes.ALL;
    }

    @ParameterizedTest
    @MethodSource("shipped")
    void recipe_survivesTheWayThereAndBack(Recipe recipe) {
        assertThat(RecipeSheets.recipe(RecipeSheets.sheet(recipe))).isEqualTo(recipe);
    }

    @ParameterizedTest
    @MethodSource("shipped")
    void wholeCycle_isAValidRecordWhoseSumsAgree(Recipe recipe) throws Exception {
        SimulatedBench bench = SimulatedBench.running(recipe);
        bench.until(State.COMPLETE, ofMinutes(20)).changeJars();
        CycleRecord record = translation.cycle(bench.onlyRecord(), OUTBOX, 3);

        assertValid(record, "cycle");
        assertThat(Messages.read(Messages.write(record), CycleRecord.class)).isEqualTo(record);
        assertThat(record.outcome()).isEqualTo(Outcome.COMPLETE);
        assertThat(record.conformity().conforms()).isTrue();
        assertThat(record.bouts()).hasSize(recipe.boutCount());
        assertThat(record.bouts().stream().mapToDouble(CycleRecord.BoutDone::agitation_s).sum())
                .isCloseTo(record.agitation_s(), within(1e-6));
        assertThat(record.trace().speed_rpm())
                .hasSizeBetween((int) record.duration_s(), (int) record.duration_s() + 2);
        assertThat(record.positions().get(0).soak_s()).isPositive();
    }

    @Test
    void boutsAndRests_followEachOtherInTime() {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWO_MINUTES_IN_THREE_BOUTS);
        bench.advance(ofSeconds(10)).openLid().advance(ofSeconds(7)).closeLid();
        bench.advance(ofSeconds(1)).rearm().advance(ofSeconds(1)).press(Command.RESTART);
        bench.until(State.COMPLETE, ofMinutes(20)).changeJars();
        CycleRecord record = translation.cycle(bench.onlyRecord(), OUTBOX, 1);

        CycleRecord.BoutDone first = record.bouts().get(0);
        CycleRecord.Interruption hold = record.interruptions().get(0);
        assertThat(hold.tag()).isEqualTo("LID-OPEN");
        assertThat(hold.reason()).isEqualTo("lid open");
        assertThat(record.rests().get(0).startedAfter_s())
                .isCloseTo(
                        first.startedAfter_s() + first.agitation_s() + hold.length_s(),
                        within(0.05));
        assertThat(record.bouts().get(1).startedAfter_s())
                .isCloseTo(
                        record.rests().get(0).startedAfter_s() + record.rests().get(0).rest_s(),
                        within(0.05));
        assertThat(record.conformity().conforms()).isFalse();
    }

    @Test
    void markerOfACycleCutShort_readsAsInterrupted() throws Exception {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWO_MINUTES_IN_THREE_BOUTS);
        bench.advance(ofSeconds(50));
        Entry.BoutBoundary marker =
                (Entry.BoutBoundary)
                        bench.entries().stream()
                                .filter(Entry.BoutBoundary.class::isInstance)
                                .findFirst()
                                .orElseThrow();
        CycleEvidence evidence = marker.soFar();
        CycleRecord record = translation.cycle(evidence, OUTBOX, 1);

        assertValid(record, "cycle");
        assertThat(record.outcome()).isEqualTo(Outcome.INTERRUPTED);
        assertThat(record.endedBy()).isEqualTo(ContractTranslation.POWER_LOST);
        assertThat(record.agitation_s()).isCloseTo(40, within(0.02));
        assertThat(record.conformity().conforms()).isFalse();
    }

    @Test
    void everyEventOfAnEmergencyStop_isValid() throws Exception {
        SimulatedBench bench = SimulatedBench.running(Recipes.TWENTY_SECONDS);
        bench.advance(ofSeconds(3)).pressEStop().advance(ofSeconds(5)).releaseEStop();
        bench.advance(ofSeconds(1)).press(Command.RESET).advance(ofSeconds(1));

        assertThat(bench.events()).isNotEmpty();
        for (Entry.BenchEvent event : bench.events()) {
            BenchEvent told = translation.event(event, UUID.randomUUID(), OUTBOX, 1);
            assertValid(told, "event");
        }
        assertThat(bench.events())
                .extracting(e -> translation.event(e, OUTBOX, OUTBOX, 1).kind())
                .contains(
                        BenchEvent.Kind.INTERLOCK_TRIPPED,
                        BenchEvent.Kind.INTERLOCK_CLEARED,
                        BenchEvent.Kind.CAUTIONS_ACKNOWLEDGED);
    }

    private static void assertValid(Message message, String kind) throws IOException {
        try (InputStream schema =
                Message.class.getResourceAsStream(
                        "/org/evenwash/record/schema/" + kind + ".json")) {
            assertThat(
                            SchemaRegistry.withDefaultDialect(SpecificationVersion.DRAFT_2020_12)
                                    .getSchema(schema, InputFormat.JSON)
                                    .validate(
                                            new String(
                                                    Messages.write(message),
                                                    StandardCharsets.UTF_8),
                                            InputFormat.JSON))
                    .isEmpty();
        }
    }
}

package org.evenwash.logger.wash;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.util.UUID;
import org.evenwash.analysis.protocol.Check;
import org.evenwash.analysis.protocol.Point;
import org.evenwash.analysis.spirit.FlashPoint;
import org.evenwash.analysis.spirit.Spirit;
import org.evenwash.analysis.spirit.Strength;
import org.evenwash.logger.store.SpiritUse;
import org.evenwash.record.Pass;
import org.evenwash.record.Ticket;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A wash and its ticket speak of the spirit as it was at that wash, not as the batch was entered. */
class SpiritOfAWashTest {
    @TempDir Path folder;
    private Book book;

    @BeforeEach
    void open() {
        book = new Book(folder);
    }

    @AfterEach
    void close() {
        book.close();
    }

    private UUID batch(String kind, Double strength_pctVol, Double flash_C, Double volume_mL) {
        return book.work
                .spirit()
                .addBatch(
                        new SpiritShelf.NewBatch(
                                "B" + UUID.randomUUID(),
                                kind,
                                strength_pctVol,
                                flash_C,
                                volume_mL,
                                null,
                                null,
                                ""),
                        By.nobody())
                .id();
    }

    private UUID washIn(UUID batch) {
        UUID wash =
                book.work
                        .washes()
                        .plan(NewWash.today(book.colony.id(), book.first.id()), By.nobody())
                        .id();
        book.work.washes().enterPass(wash, Pass.FIRST, batch, 20.0, By.nobody());
        return wash;
    }

    private void note(UUID batch, SpiritUse.Kind kind, double volume_mL, Double strength_pctVol) {
        book.work.spirit().note(batch, kind, volume_mL, strength_pctVol, "", By.nobody());
    }

    private Check strength(UUID wash) {
        return book.work.sheets().of(wash).checks().stream()
                .filter(check -> check.point() == Point.STRENGTH_PERCENT_VOL)
                .findFirst()
                .orElseThrow();
    }

    private SpiritState then(UUID wash) {
        return book.work.sheets().of(wash).pass(Pass.FIRST).orElseThrow().spiritThen();
    }

    private Ticket.Spirit onTicket(UUID wash) {
        book.work.recipes().add(Book.RECIPE, null, By.nobody());
        book.work.benches().admit("shed-1", "Shed", true, By.nobody());
        var ticket =
                book.work
                        .tickets()
                        .issue(wash, Pass.FIRST, "shed-1", 1, "three-bouts", 1, By.nobody());
        return ticket.message().spirit();
    }

    /** COLOSS BEEBOOK (Dietemann et al. 2013) asks for 75 %vol. */
    @Test
    void topUp_countsForLaterWashes_andNotForEarlierOnes() {
        UUID batch = batch("ethanol", 80.0, null, 1_000.0);
        UUID early = washIn(batch);
        note(batch, SpiritUse.Kind.TOP_UP, 1_000, 40.0);
        UUID late = washIn(batch);

        assertThat(strength(early).outcome()).isEqualTo(Check.Outcome.PASS);
        assertThat(strength(late).outcome()).isNotEqualTo(Check.Outcome.PASS);
        assertThat(strength(late).evidence()).contains("followed through its uses");
        // 800 mL and 400 mL of spirit in a little less than 2,000 mL.
        assertThat(then(late).weakest_pctVol()).isBetween(60.0, 61.5);
        assertThat(then(early).weakest_pctVol()).isCloseTo(80, within(1e-6));
    }

    @Test
    void propanol_isNotTakenForEthanol() {
        UUID wash = washIn(batch("isopropyl alcohol (2-propanol)", 70.0, null, 1_000.0));

        double cautious_C =
                FlashPoint.of(Strength.ofPercentVol(Spirit.PROPANOL_2, 70))
                        .orElseThrow()
                        .cautious_C();
        assertThat(then(wash).flashPoint_C()).isCloseTo(cautious_C, within(1e-9));
        assertThat(then(wash).weakest_pctVol()).isCloseTo(70, within(1e-6));
    }

    @Test
    void strongTopUp_lowersTheFlashPointOnTheTicket_belowWhatWasEntered() {
        UUID batch = batch("methylated spirit", 48.9, 21.0, 1_000.0);
        note(batch, SpiritUse.Kind.TOP_UP, 1_000, 95.0);
        Ticket.Spirit spirit = onTicket(washIn(batch));

        assertThat(spirit.strength_pctVol()).isBetween(70.0, 75.0);
        double cautious_C =
                FlashPoint.of(Strength.ofPercentVol(Spirit.ETHANOL, spirit.strength_pctVol()))
                        .orElseThrow()
                        .cautious_C();
        assertThat(spirit.flashPoint_C()).isCloseTo(cautious_C, within(1e-9)).isLessThan(21);
    }

    @Test
    void evaporation_weakensForWashing_butNeverForFire() {
        UUID batch = batch("ethanol", 60.0, null, 1_000.0);
        note(batch, SpiritUse.Kind.LOSS, 200, null);
        UUID wash = washIn(batch);

        assertThat(then(wash).weakest_pctVol()).isLessThan(55);
        assertThat(onTicket(wash).strength_pctVol()).isCloseTo(60, within(1e-6));
    }

    @Test
    void withoutAVolume_theStrongestPouredIn_countsForFire_andALossLeavesTheStrengthOpen() {
        UUID batch = batch("ethanol", 50.0, 20.0, null);
        note(batch, SpiritUse.Kind.TOP_UP, 100, 90.0);
        assertThat(then(washIn(batch)).weakest_pctVol()).isEqualTo(50);
        assertThat(then(washIn(batch)).strongest_pctVol()).isEqualTo(90);
        // Table read as %vol: 17 °C at 90 %, less 3 °C (see FlashPoint).
        assertThat(onTicket(washIn(batch)).flashPoint_C()).isLessThanOrEqualTo(14);

        note(batch, SpiritUse.Kind.LOSS, 50, null);
        assertThat(strength(washIn(batch)).outcome()).isEqualTo(Check.Outcome.NOT_ASSESSED);
    }

    @Test
    void unknownKind_keepsItsStatedStrength_andOnlyTheFlashPointThatWasEntered() {
        UUID wash = washIn(batch("rubbing alcohol", 70.0, 18.0, 1_000.0));
        assertThat(strength(wash).evidence()).contains("70");
        assertThat(onTicket(wash).flashPoint_C()).isEqualTo(18);
    }

    @Test
    void takingBackATopUpThatLaterLossesNeed_isRefused() {
        UUID batch = batch("ethanol", 60.0, null, 100.0);
        note(batch, SpiritUse.Kind.TOP_UP, 100, 60.0);
        note(batch, SpiritUse.Kind.LOSS, 150, null);
        UUID topUp =
                book.work.spirit().uses(batch).stream()
                        .filter(use -> use.kind() == SpiritUse.Kind.TOP_UP)
                        .findFirst()
                        .orElseThrow()
                        .id();
        assertThatThrownBy(() -> book.work.spirit().removeNote(topUp, "mistyped", By.nobody()))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("does not add up");
        assertThat(book.work.spirit().uses(batch)).hasSize(2);
    }
}

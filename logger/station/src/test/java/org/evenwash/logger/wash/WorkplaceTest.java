package org.evenwash.logger.wash;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.evenwash.analysis.Result;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.logger.store.IdempotencyKeys;
import org.evenwash.logger.store.MiteCount;
import org.evenwash.logger.store.Page;
import org.evenwash.logger.store.SpiritBatch;
import org.evenwash.logger.store.StoredTicket;
import org.evenwash.logger.store.Wash;
import org.evenwash.logger.store.WashFilter;
import org.evenwash.logger.store.WashLine;
import org.evenwash.record.Pass;
import org.evenwash.record.Ticket;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class WorkplaceTest {
    @TempDir Path folder;
    private Book book;
    private Workplace work;

    @BeforeEach
    void open() {
        book = new Book(folder);
        work = book.work;
    }

    @AfterEach
    void close() {
        book.close();
    }

    private Wash planned() {
        return work.washes()
                .plan(
                        NewWash.today(book.colony.id(), book.first.id()),
                        By.operator(book.first.id()));
    }

    private Wash counted(int mites, double bees) {
        Wash wash = planned();
        work.counting().enter(wash.id(), Pass.FIRST, mites, book.first.id(), By.nobody());
        return work.washes()
                .enterBees(
                        wash.id(),
                        wash.version(),
                        BeeMeasure.COUNTED,
                        bees,
                        null,
                        null,
                        null,
                        By.nobody());
    }

    /** COLOSS BEEBOOK (Dietemann et al. 2013) worked example: 13 mites, 303 bees, 4.3 per 100. */
    @Test
    void thirteenMitesIn303Bees_read43Per100() {
        Wash wash = counted(13, 303);

        Result infestation = work.sheets().of(wash.id()).infestation();

        assertThat(infestation).isInstanceOf(Result.Estimate.class);
        assertThat(((Result.Estimate) infestation).value()).isEqualTo(4.2904, within(0.00005));
    }

    @Test
    void washWithoutCounts_saysWhatIsNeeded() {
        Result infestation = work.sheets().of(planned().id()).infestation();

        assertThat(infestation)
                .isInstanceOfSatisfying(
                        Result.NotEnoughData.class,
                        none ->
                                assertThat(none.needs())
                                        .isEqualTo(
                                                "the mites of the first wash and the number of bees in the sample"));
    }

    @Test
    void fillLineBees_sayThatTheyAreEstimated() {
        Result result = Infestations.of(2, 300.0, BeeMeasure.FILL_LINE, null);

        assertThat(result.remarks().get(0)).startsWith("The bees were estimated");
        assertThat(Infestations.of(2, 300.0, BeeMeasure.COUNTED, null).remarks())
                .noneMatch(remark -> remark.contains("estimated"));
    }

    @Test
    void sameFormSentTwice_isDoneOnce() {
        By once = By.operator(book.first.id()).once(UUID.randomUUID().toString());
        Wash wash = planned();

        MiteCount sent = work.counting().enter(wash.id(), Pass.FIRST, 4, null, once);
        MiteCount again = work.counting().enter(wash.id(), Pass.FIRST, 4, null, once);

        assertThat(again).isEqualTo(sent);
        assertThatThrownBy(() -> work.washes().plan(NewWash.today(book.colony.id(), null), once))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("was used before to enter mites of wash " + wash.id());
    }

    /**
     * A program that sends one key with two samples would lose the second, told that it is kept.
     */
    @Test
    void keyOfOneWash_sentWithAnother_isRefused() {
        By once = By.operator(book.first.id()).once(UUID.randomUUID().toString());
        Wash one = planned();
        Wash other = planned();
        work.counting().enter(one.id(), Pass.FIRST, 4, null, once);
        assertThatThrownBy(() -> work.counting().enter(other.id(), Pass.FIRST, 9, null, once))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("was used before to enter mites of wash " + one.id());

        By key = By.operator(book.first.id()).once(UUID.randomUUID().toString());
        beesOf(one, key);
        assertThat(beesOf(one, key).version()).isEqualTo(2);
        assertThatThrownBy(() -> beesOf(other, key))
                .isInstanceOf(Refused.class)
                .hasMessageContaining("was used before to enter a sample of wash " + one.id());
    }

    private Wash beesOf(Wash wash, By by) {
        return work.washes()
                .enterBees(
                        wash.id(), wash.version(), BeeMeasure.COUNTED, 300, null, null, null, by);
    }

    @Test
    void keysOfLongAgo_areForgotten() {
        Instant oldest = work.clock().instant().minus(Desk.KEYS_KEPT);
        taken("old", oldest.minusMillis(1));
        taken("kept", oldest.plus(Duration.ofDays(1)));

        work.washes()
                .plan(
                        NewWash.today(book.colony.id(), null),
                        By.operator(book.first.id()).once(UUID.randomUUID().toString()));

        assertThat(isKnown("old")).isFalse();
        assertThat(isKnown("kept")).isTrue();
    }

    private void taken(String key, Instant at) {
        book.database.change(
                handle -> IdempotencyKeys.take(handle, key, "add a thing", UUID.randomUUID(), at));
    }

    private boolean isKnown(String key) {
        return book.database.read(handle -> IdempotencyKeys.find(handle, key).isPresent());
    }

    @Test
    void secondPersonCorrectingTheSameCount_isShownWhatChanged() {
        Wash wash = planned();
        MiteCount count = work.counting().enter(wash.id(), Pass.FIRST, 4, null, By.nobody());
        By first = By.operator(book.first.id());
        By second = By.operator(book.second.id());

        work.counting().correct(count.id(), count.version(), 5, "one on the jar wall", first);
        EditedMeanwhile refusal =
                catchThrowableOfType(
                        EditedMeanwhile.class,
                        () ->
                                work.counting()
                                        .correct(
                                                count.id(),
                                                count.version(),
                                                6,
                                                "miscounted",
                                                second));

        assertThat(refusal.changes())
                .singleElement()
                .satisfies(
                        change -> {
                            assertThat(change.earlier()).isEqualTo("4");
                            assertThat(change.later()).isEqualTo("5");
                            assertThat(change.correctedBy()).isEqualTo(book.first.id());
                            assertThat(change.why()).isEqualTo("one on the jar wall");
                        });
        MiteCount now =
                work.counting().correct(count.id(), refusal.currentVersion(), 6, "sixth", second);
        assertThat(now.mites()).isEqualTo(6);
        assertThat(work.sheets().of(wash.id()).corrections()).hasSize(2);
    }

    @Test
    void manyPeopleCorrectingAtOnce_loseNothing() throws Exception {
        Wash wash = planned();
        MiteCount count = work.counting().enter(wash.id(), Pass.FIRST, 0, null, By.nobody());
        ExecutorService people = Executors.newFixedThreadPool(8);
        CountDownLatch go = new CountDownLatch(1);
        List<Future<Boolean>> tries =
                java.util.stream.IntStream.rangeClosed(1, 8)
                        .mapToObj(
                                mites ->
                                        people.submit(
                                                () -> {
                                                    go.await();
                                                    return corrected(count, mites);
                                                }))
                        .toList();

        go.countDown();
        int done = 0;
        for (Future<Boolean> one : tries) {
            done += one.get() ? 1 : 0;
        }
        people.shutdown();

        assertThat(done).isEqualTo(1);
        assertThat(work.sheets().of(wash.id()).corrections()).hasSize(1);
    }

    private boolean corrected(MiteCount count, int mites) {
        try {
            work.counting().correct(count.id(), count.version(), mites, "race", By.nobody());
            return true;
        } catch (EditedMeanwhile lost) {
            return false;
        }
    }

    @Test
    void secondFirstCount_isRefused_andRecountStandsBeside() {
        Wash wash = counted(4, 300);

        assertThatThrownBy(() -> work.counting().enter(wash.id(), Pass.FIRST, 5, null, By.nobody()))
                .hasMessage(
                        "mites of this pass were counted already (4); enter yours as a recount,"
                                + " or correct the first with a reason");
        work.counting().recount(wash.id(), Pass.FIRST, 5, book.second.id(), true, By.nobody());

        PassSheet pass = work.sheets().of(wash.id()).pass(Pass.FIRST).orElseThrow();
        assertThat(pass.firstCount().orElseThrow().mites()).isEqualTo(4);
        assertThat(pass.recounts()).extracting(MiteCount::mites).containsExactly(5);
    }

    @Test
    void impossibleNumbers_areRefusedByName() {
        Wash wash = planned();

        assertThatThrownBy(
                        () -> work.counting().enter(wash.id(), Pass.FIRST, -1, null, By.nobody()))
                .hasMessage("mites is -1; enter the number counted, 0 to 100000");
        for (double bees : new double[] {0, -3, Double.NaN}) {
            assertThatThrownBy(() -> enterBees(wash, BeeMeasure.COUNTED, bees))
                    .isInstanceOf(Refused.class)
                    .hasMessageContaining("enter how many bees were washed, more than 0");
        }
        assertThatThrownBy(() -> enterBees(wash, BeeMeasure.COUNTED, 317.4))
                .hasMessageContaining("enter a whole number, or choose fill line or mass");
        assertThat(enterBees(wash, BeeMeasure.MASS, 317.4).bees()).isEqualTo(317.4);
    }

    private Wash enterBees(Wash wash, BeeMeasure measure, double bees) {
        return work.washes()
                .enterBees(wash.id(), wash.version(), measure, bees, null, null, null, By.nobody());
    }

    @Test
    void correctingBees_needsAReason_andSupersedesReports() {
        Wash wash = counted(4, 300);

        assertThatThrownBy(() -> enterBees(wash, BeeMeasure.COUNTED, 310))
                .hasMessageContaining("say why the value is corrected");
    }

    @Test
    void listShowsTheFirstWash_newestFirst_byPages() {
        for (int mites = 0; mites < 5; mites++) {
            counted(mites, 300);
        }

        var page = work.washes().list(WashFilter.ofColony(book.colony.id()), new Page(1, 2));
        var last = work.washes().list(WashFilter.ALL, new Page(3, 2));

        assertThat(page.total()).isEqualTo(5);
        assertThat(page.pages()).isEqualTo(3);
        assertThat(page.rows()).extracting(WashLine::mites).containsExactly(4, 3);
        assertThat(page.rows().get(0).colony()).isEqualTo("H1");
        assertThat(page.rows().get(0).conforms()).isNull();
        assertThat(last.rows()).extracting(WashLine::mites).containsExactly(0);
        assertThat(last.hasNext()).isFalse();
        assertThat(
                        work.washes()
                                .list(WashFilter.ofApiary(UUID.randomUUID()), Page.first(10))
                                .rows())
                .isEmpty();
    }

    @Test
    void removedWash_leavesTheLists_andCanBePutBack() {
        Wash wash = counted(1, 300);

        work.washes().remove(wash.id(), wash.version(), "entered twice", By.nobody());
        assertThat(work.washes().list(WashFilter.ALL, Page.first(10)).rows()).isEmpty();
        work.washes().putBack(wash.id(), wash.version() + 1, "was right", By.nobody());

        assertThat(work.washes().list(WashFilter.ALL, Page.first(10)).rows()).hasSize(1);
        assertThat(work.sheets().of(wash.id()).corrections()).hasSize(3 + 1);
    }

    @Test
    void ticketCarriesRecipeAndSpirit_andHoldsItsJarPosition() {
        work.recipes().add(Book.RECIPE, null, By.nobody());
        work.benches().admit("bench-1", "Bench one", true, By.nobody());
        SpiritBatch spirit =
                work.spirit()
                        .addBatch(
                                new SpiritShelf.NewBatch(
                                        "Jar 1", "ethanol", 70.0, 21.0, 1000.0, null, null, ""),
                                By.nobody());
        Wash wash = planned();
        work.washes().enterPass(wash.id(), Pass.FIRST, spirit.id(), null, By.nobody());

        StoredTicket ticket = issue(wash);

        assertThat(book.sent)
                .singleElement()
                .satisfies(
                        message -> {
                            assertThat(message.ticketId()).isEqualTo(ticket.id());
                            assertThat(message.colony()).isEqualTo("H1");
                            assertThat(message.operator()).isEqualTo("Operator One");
                            assertThat(message.recipe()).isEqualTo(Book.RECIPE);
                            // The lower of what was entered and the cautious value of 70 %vol: 21
                            // by the printed table (engineeringtoolbox.com), less 3 (FlashPoint).
                            assertThat(message.spirit().flashPoint_C()).isEqualTo(18.0);
                        });
        assertThatThrownBy(() -> issue(planned()))
                .hasMessageContaining("1 of bench bench-1 has an open ticket");
        work.tickets().withdraw(ticket.id(), By.nobody());
        assertThat(book.sent.get(1).action()).isEqualTo(Ticket.Action.WITHDRAW);
        assertThat(issue(planned()).standing()).isEqualTo(StoredTicket.Standing.ISSUED);
        assertThat(work.sheets().of(wash.id()).pass(Pass.FIRST).orElseThrow().spiritUse())
                .isEqualTo(1);
    }

    private StoredTicket issue(Wash wash) {
        return work.tickets()
                .issue(wash.id(), Pass.FIRST, "bench-1", 1, "three-bouts", 1, By.nobody());
    }

    @Test
    void colonyKeepsItsId_throughRenameMoveAndEnd() {
        var other =
                work.yard()
                        .addApiary(
                                "Fern Slope",
                                "Australia/Sydney",
                                org.evenwash.logger.store.Hemisphere.SOUTHERN,
                                By.nobody());
        UUID id = book.colony.id();
        LocalDate day = LocalDate.of(2026, 5, 1);

        work.yard().rename(id, "H1a", day, By.nobody());
        work.yard().move(id, other.id(), day.plusDays(1), By.nobody());
        work.yard().treated(id, "oxalic acid", day.plusDays(2), null, "", By.nobody());
        work.yard().died(id, day.plusDays(9), "", By.nobody());

        var colony = work.yard().colony(id);
        assertThat(colony.name()).isEqualTo("H1a");
        assertThat(colony.apiaryId()).isEqualTo(other.id());
        assertThat(colony.endedOn()).isEqualTo(day.plusDays(9));
        assertThat(work.yard().events(id))
                .extracting(ColonyEvent::kind)
                .containsExactly(
                        ColonyEvent.Kind.RENAME,
                        ColonyEvent.Kind.MOVE,
                        ColonyEvent.Kind.TREATMENT,
                        ColonyEvent.Kind.DEATH);
        assertThatThrownBy(
                        () ->
                                work.washes()
                                        .plan(
                                                new NewWash(
                                                        id,
                                                        day.plusDays(10),
                                                        null,
                                                        null,
                                                        null,
                                                        "",
                                                        false),
                                                By.nobody()))
                .hasMessageContaining("ended on 2026-05-10");
    }

    @Test
    void unknownTimeZone_saysWhatToEnter() {
        assertThatThrownBy(
                        () ->
                                work.yard()
                                        .addApiary(
                                                "X",
                                                "Vienna",
                                                org.evenwash.logger.store.Hemisphere.NORTHERN,
                                                By.nobody()))
                .hasMessage(
                        "time zone reads 'Vienna'; enter a name such as Europe/Vienna or"
                                + " Australia/Sydney");
    }
}

package org.evenwash.logger.intake;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Path;
import java.time.Clock;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.TestDatabase;
import org.evenwash.logger.store.Database;
import org.evenwash.logger.wash.BenchLink;
import org.evenwash.record.BenchCommand;
import org.evenwash.record.BenchState;
import org.evenwash.record.Ticket;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class GreetingTest {
    private static final UUID OUTBOX = UUID.randomUUID();
    private static final BenchState BACK =
            Samples.online("shed-1", List.of(), new BenchState.OutboxState(OUTBOX, 2, 10));

    @TempDir Path folder;

    /** Fails as the client library does now and then, with a mistake of its own. */
    private static final class Failing implements BenchLink {
        private final List<BenchCommand> asked = new ArrayList<>();

        @Override
        public void send(Ticket ticket) {
            throw new AssertionError("there is no ticket");
        }

        @Override
        public boolean send(BenchCommand command) {
            asked.add(command);
            throw new IllegalStateException("the client is in two minds");
        }
    }

    @Test
    void messageThatCannotBeSent_endsNoGreeting() {
        try (Database database = Database.open(TestDatabase.in(folder, "greeting"))) {
            Failing link = new Failing();
            Greeting greeting = new Greeting(database, link, Clock.systemUTC());

            greeting.greet(BACK);

            assertThat(link.asked).hasSize(1);
            assertThat(greeting.owes("shed-1")).isFalse();
        }
    }

    @Test
    void databaseThatIsAway_leavesTheGreetingOwed() {
        Database database = Database.open(TestDatabase.in(folder, "greeting"));
        database.close();
        Greeting greeting = new Greeting(database, new Samples.NoLink(), Clock.systemUTC());

        assertThatThrownBy(() -> greeting.greet(BACK))
                .matches(e -> Database.isOwnTrouble((RuntimeException) e));

        assertThat(greeting.owes("shed-1")).isTrue();
    }
}

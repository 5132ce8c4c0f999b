package org.evenwash.logger.wash;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.UUID;
import org.evenwash.logger.store.Colony;
import org.junit.jupiter.api.Test;

/** The draw of a day's colonies: repeatable, and fair. */
class DayPlannerTest {
    private static final UUID APIARY = new UUID(1, 1);

    private static List<Colony> colonies(int howMany) {
        List<Colony> all = new ArrayList<>();
        for (int i = 0; i < howMany; i++) {
            all.add(new Colony(new UUID(7, i), APIARY, "C" + i, null, "", Instant.EPOCH, 1));
        }
        return all;
    }

    @Test
    void oneSeed_drawsTheSame_whateverTheOrderOrTheNames() {
        List<Colony> inOrder = colonies(9);
        List<Colony> reversed = new ArrayList<>(inOrder);
        Collections.reverse(reversed);
        assertThat(DayPlanner.draw(reversed, 4, 41))
                .isEqualTo(DayPlanner.draw(inOrder, 4, 41))
                .hasSize(4)
                .doesNotHaveDuplicates();
    }

    @Test
    void everyColony_isDrawnAboutAsOften() {
        List<Colony> all = colonies(6);
        int[] drawn = new int[6];
        for (int seed = 0; seed < 6_000; seed++) {
            DayPlanner.draw(all, 2, seed)
                    .forEach(one -> drawn[(int) one.id().getLeastSignificantBits()]++);
        }
        // Binomial with 6,000 and 1/3: mean 2,000, standard deviation 36.5; five of them either
        // way.
        for (int times : drawn) {
            assertThat(times).isBetween(1_817, 2_183);
        }
    }

    @Test
    void allOfThem_canBeDrawn_butNoneAndMoreCannot() {
        assertThat(DayPlanner.draw(colonies(3), 3, 1)).hasSize(3);
        assertThatThrownBy(() -> DayPlanner.draw(colonies(3), 4, 1)).isInstanceOf(Refused.class);
        assertThatThrownBy(() -> DayPlanner.draw(colonies(3), 0, 1)).isInstanceOf(Refused.class);
    }
}

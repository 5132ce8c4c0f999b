package org.evenwash.logger.transfer;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

/**
 * What reading a file comes to, in a dry run or an import.
 *
 * @param rows under the heading, blank ones not counted
 * @param ready rows that become washes
 * @param alreadyHere rows whose wash is kept already
 * @param hereLines lines of the first of these
 * @param bad rows with a problem
 * @param problems the first of them
 * @param cautions what deserves a look in rows that are ready, the first of them
 * @param firstDay of the washes that are ready, null without one
 * @param sameFile whether these very bytes were imported before
 */
public record Outcome(
        long rows,
        long ready,
        long alreadyHere,
        List<Long> hereLines,
        long bad,
        List<RowProblem> problems,
        long cautionCount,
        List<RowProblem> cautions,
        LocalDate firstDay,
        LocalDate lastDay,
        NewNames apiaries,
        NewNames colonies,
        NewNames operators,
        NewNames spirits,
        boolean sameFile) {

    /** Names that are not known yet: how many, and the first of them. */
    public record NewNames(int count, List<String> first) {
        static final int SHOWN = 40;

        static NewNames of(List<String> names) {
            return new NewNames(
                    names.size(), new ArrayList<>(names.subList(0, Math.min(SHOWN, names.size()))));
        }
    }

    /** Whether anything beside washes has to be made. */
    public boolean needsNew() {
        return apiaries.count() + colonies.count() + operators.count() + spirits.count() > 0;
    }
}

package org.evenwash.logger.transfer;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.regex.Pattern;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.QueenCheck;

/** Words and numbers as old records write them; the first word of a kind is the one that we write. */
final class Words {
    static final Map<String, QueenCheck> QUEEN = new LinkedHashMap<>();
    static final Map<String, Frame> FRAME = new LinkedHashMap<>();
    static final Map<String, BeeMeasure> MEASURE = new LinkedHashMap<>();
    static final Map<String, Boolean> YES_NO = new LinkedHashMap<>();

    private static final Pattern POINT = Pattern.compile("[+-]?(\\d+\\.?\\d*|\\.\\d+)");
    private static final Pattern COMMA = Pattern.compile("[+-]?(\\d+,?\\d*|,\\d+)");
    private static final int MOST_DIGITS = 40;

    static {
        all(QUEEN, QueenCheck.SEEN_ELSEWHERE, "seen elsewhere", "seen", "queen seen");
        all(QUEEN, QueenCheck.CHECKED_NOT_SEEN, "checked not seen", "not seen", "checked");
        all(QUEEN, QueenCheck.NOT_CHECKED, "not checked", "unchecked");
        all(QUEEN, QueenCheck.NOT_STATED, "not stated");
        all(FRAME, Frame.BROOD_NEST, "brood nest", "brood", "nest", "brood frame");
        all(FRAME, Frame.HONEY, "honey", "super", "stores", "honey frame");
        all(FRAME, Frame.OTHER, "other", "entrance", "lid");
        all(FRAME, Frame.NOT_STATED, "not stated");
        all(MEASURE, BeeMeasure.COUNTED, "counted", "count");
        all(MEASURE, BeeMeasure.FILL_LINE, "fill line", "volume", "cup", "line");
        all(MEASURE, BeeMeasure.MASS, "mass", "weight", "weighed");
        all(MEASURE, BeeMeasure.NOT_STATED, "not stated");
        all(YES_NO, true, "yes", "true", "1", "y", "x");
        all(YES_NO, false, "no", "false", "0", "n");
    }

    private Words() {}

    private static <T> void all(Map<String, T> known, T meaning, String... words) {
        for (String word : words) {
            known.put(word, meaning);
        }
    }

    /** The word that an export writes, such as {@code brood nest}. */
    static String of(Enum<?> one) {
        return WashField.words(one.name());
    }

    /** Null where the text is no plain number; thousands are never told apart. */
    static Double number(String text, boolean decimalComma) {
        if (text.length() > MOST_DIGITS
                || !(decimalComma ? COMMA : POINT).matcher(text).matches()) {
            return null;
        }
        return Double.valueOf(text.replace(',', '.'));
    }
}

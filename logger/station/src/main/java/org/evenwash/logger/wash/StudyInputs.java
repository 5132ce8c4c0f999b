package org.evenwash.logger.wash;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.evenwash.logger.store.StudyWash;

/** The washes of a study as a calibration keeps them: lists of equal length, and what was left out. */
final class StudyInputs {
    private StudyInputs() {}

    /** @param washes of the study, those that the result rests on */
    static Map<String, Object> of(AgitationStudy study, List<StudyWash> washes) {
        Map<String, Object> inputs = new LinkedHashMap<>();
        inputs.put("filter", study.filter());
        inputs.put("secondWash", study.secondWash());
        inputs.put("washes", washes.stream().map(StudyWash::washId).toList());
        inputs.put("agitation_s", washes.stream().map(StudyWash::agitation_s).toList());
        inputs.put("first", washes.stream().map(StudyWash::firstMites).toList());
        inputs.put("second", washes.stream().map(StudyWash::secondMites).toList());
        if (study.secondWash() == SecondWash.SAME_METHOD) {
            inputs.put(
                    "secondAgitation_s",
                    washes.stream().map(StudyWash::secondAgitation_s).toList());
        }
        inputs.put("leftOut", leftOut(study));
        return inputs;
    }

    private static List<Map<String, Object>> leftOut(AgitationStudy study) {
        return study.leftOut().stream()
                .map(one -> Map.<String, Object>of("wash", one.wash().washId(), "why", one.why()))
                .toList();
    }
}

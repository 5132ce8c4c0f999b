package org.evenwash.logger.web;

import java.util.List;
import java.util.Map;

/**
 * Why a request was not done, in words for the person who made it: what is wrong, where, and what
 * to do. Becomes a page for a browser and an RFC 9457 problem document for a program.
 */
public final class Problem extends RuntimeException {
    private static final long serialVersionUID = 1L;

    /** A field of the form or JSON body and what is wrong with it. */
    public record Field(String field, String message) {}

    /** What somebody else changed meanwhile. */
    public record Change(String what, String before, String now, String who, String when) {}

    private final int status;
    private final String code;
    private final String title;
    private final String remedy;
    private final transient List<Field> fields;
    private final transient List<Change> changes;
    private final Long version;

    private Problem(
            int status,
            String code,
            String title,
            String remedy,
            List<Field> fields,
            List<Change> changes,
            Long version) {
        super(title);
        this.status = status;
        this.code = code;
        this.title = title;
        this.remedy = remedy;
        this.fields = List.copyOf(fields);
        this.changes = List.copyOf(changes);
        this.version = version;
    }

    /**
     * @param code short and stable, for programs
     */
    public static Problem of(int status, String code, String title, String remedy) {
        return new Problem(status, code, title, remedy, List.of(), List.of(), null);
    }

    /** 422: some fields cannot be taken; all of them are named at once. */
    public static Problem fields(String title, String remedy, List<Field> fields) {
        return new Problem(422, "fields", title, remedy, fields, List.of(), null);
    }

    /**
     * 409: somebody else was faster.
     *
     * @param version to send with the next try, once the person has seen the changes
     */
    public static Problem conflict(
            String title, String remedy, List<Change> changes, long version) {
        return new Problem(409, "changed-meanwhile", title, remedy, List.of(), changes, version);
    }

    public int status() {
        return status;
    }

    public String code() {
        return code;
    }

    public String title() {
        return title;
    }

    public String remedy() {
        return remedy;
    }

    public List<Field> fields() {
        return fields;
    }

    public List<Change> changes() {
        return changes;
    }

    /** The body of an {@code application/problem+json} answer. */
    Map<String, Object> document() {
        var body = new java.util.LinkedHashMap<String, Object>();
        body.put("type", "about:blank");
        body.put("status", status);
        body.put("code", code);
        body.put("title", title);
        body.put("detail", remedy);
        if (!fields.isEmpty()) {
            body.put("fields", fields);
        }
        if (version != null) {
            body.put("changes", changes);
            body.put("version", version);
        }
        return body;
    }
}

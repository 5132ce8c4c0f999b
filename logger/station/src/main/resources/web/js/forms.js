// What is typed into a form stays in this browser until the logger has accepted it. Without this file
// every form still works as a plain one.
(() => {
    "use strict";
    const PREFIX = "evenwash:";
    const RETRY_MS = 15000;

    const say = (form, name) => form.dataset[name] || document.body.dataset[name] || "";
    const fields = form => [...form.elements].filter(e => e.name && !["csrf", "idempotencyKey", "version"].includes(e.name) && !["hidden", "password"].includes(e.type));

    // What somebody else left on this device is neither shown nor sent under another name.
    const place = form => PREFIX + (document.body.dataset.account || "") + ":" + form.dataset.keep;
    const read = form => {
        try {
            return JSON.parse(localStorage.getItem(place(form)));
        } catch (unreadable) {
            return null;
        }
    };
    const forget = form => localStorage.removeItem(place(form));
    const keep = (form, pending) => {
        const values = {};
        for (const field of fields(form)) {
            if (field.type === "radio") {
                if (field.checked) values[field.name] = field.value;
            } else if (field.type === "checkbox" && field.value !== "true") {
                // Several boxes of one name: the ticked ones.
                values[field.name] = (values[field.name] || []).concat(field.checked ? [field.value] : []);
            } else {
                values[field.name] = field.type === "checkbox" ? field.checked : field.value;
            }
        }
        localStorage.setItem(place(form), JSON.stringify({
            values, pending, version: form.elements.version?.value, key: form.elements.idempotencyKey?.value}));
    };
    // A fold hides neither a mistake nor what somebody typed.
    const unfold = field => {
        for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) fold.open = true;
    };
    const restore = form => {
        const draft = read(form);
        if (!draft) return;
        for (const field of fields(form)) {
            if (!(field.name in draft.values)) continue;
            const value = draft.values[field.name];
            const before = field.value;
            if (field.type === "radio") field.checked = field.value === value;
            else if (field.type === "checkbox") field.checked = Array.isArray(value) ? value.includes(field.value) : value;
            else field.value = value;
            if (field.value !== before) unfold(field);
        }
        // The version that the person saw while typing, not the one of this moment: otherwise a draft
        // would silently overwrite what somebody else entered since.
        if (draft.version && form.elements.version) form.elements.version.value = draft.version;
        if (draft.key && form.elements.idempotencyKey) form.elements.idempotencyKey.value = draft.key;
        form.closest("details")?.setAttribute("open", "");
        tell(form, draft.pending ? "waiting" : "kept");
        if (draft.pending) send(form);
    };

    const answerOf = form => {
        let box = form.querySelector(".answer");
        if (!box) {
            box = document.createElement("div");
            box.className = "answer";
            box.setAttribute("role", "status");
            form.append(box);
        }
        return box;
    };
    const line = (text, className) => {
        const p = document.createElement("p");
        p.textContent = text;
        if (className) p.className = className;
        return p;
    };
    const clear = form => {
        answerOf(form).replaceChildren();
        form.querySelectorAll(".wrong").forEach(e => e.remove());
        form.querySelectorAll("[aria-invalid]").forEach(e => {
            e.removeAttribute("aria-invalid");
            e.removeAttribute("aria-describedby");
        });
    };
    const note = (form, kind, ...lines) => {
        const box = document.createElement("div");
        box.className = "note " + kind;
        box.append(...lines);
        answerOf(form).replaceChildren(box);
        return box;
    };
    const tell = (form, name) => {
        const box = note(form, "action", line(say(document.body, name)));
        if (name !== "kept") return;
        const drop = document.createElement("button");
        drop.type = "button";
        drop.textContent = say(document.body, "drop");
        drop.addEventListener("click", () => {
            forget(form);
            form.reset();
            clear(form);
        });
        box.append(drop);
    };

    // The sign-in has ended: the entry waits, and is sent when this page is opened again.
    const signInAgain = form => {
        const now = form.hasAttribute("data-now") || form.hasAttribute("data-photo");
        if (!now) keep(form, true);
        form.dataset.signedOut = "yes";
        const link = document.createElement("a");
        link.className = "button primary";
        link.href = "/sign-in?to=" + encodeURIComponent(location.pathname + location.search);
        if (now) link.target = "_blank";
        link.textContent = say(document.body, "signinlink");
        note(form, "action", line(say(document.body, now ? "signinnow" : "signin")), link);
    };

    const showProblem = (form, problem) => {
        const lines = [line(problem.title, "state danger"), line(problem.detail)];
        for (const change of problem.changes || []) {
            lines.push(line(`${change.what}: ${change.before} → ${change.now} (${change.who}, ${change.when})`));
        }
        for (const wrong of problem.fields || []) {
            const field = form.elements[wrong.field];
            const input = field instanceof RadioNodeList ? field[0] : field;
            if (!input || input.type === "hidden") {
                lines.push(line(wrong.message));
                continue;
            }
            const text = line(wrong.message, "wrong");
            text.id = "wrong-" + form.dataset.keep.replace(/\W/g, "-") + "-" + wrong.field;
            (input.closest(".field") || input.parentElement).append(text);
            input.setAttribute("aria-invalid", "true");
            input.setAttribute("aria-describedby", text.id);
            unfold(input);
        }
        note(form, problem.changes ? "abnormal" : "danger", ...lines);
        if (problem.version && form.elements.version) {
            form.elements.version.value = problem.version;
            keep(form, false);
        }
        (form.querySelector("[aria-invalid]") || answerOf(form)).scrollIntoView({block: "center"});
        form.querySelector("[aria-invalid]")?.focus();
    };

    // A phone's photo has ten times the pixels that a sieve needs to be seen.
    const LONGEST_EDGE = 1600;
    const shrunk = async file => {
        const picture = await createImageBitmap(file);
        const scale = Math.min(1, LONGEST_EDGE / Math.max(picture.width, picture.height));
        const canvas = document.createElement("canvas");
        canvas.width = Math.round(picture.width * scale);
        canvas.height = Math.round(picture.height * scale);
        canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
        return new Promise(done => canvas.toBlob(done, "image/jpeg", 0.85));
    };
    // What the browser cannot open is sent as it is: the logger says what is wrong with it.
    const postPhoto = async form => {
        const file = form.elements.photo.files[0];
        const body = await shrunk(file).catch(() => file);
        return fetch(form.action, {method: "POST", body, headers: {
            "Accept": "application/json", "Content-Type": body.type || "application/octet-stream",
            "Idempotency-Key": form.elements.idempotencyKey.value,
            "X-CSRF-Token": document.querySelector("meta[name=csrf]").content}});
    };

    const post = async form => {
        if (form.hasAttribute("data-photo")) return postPhoto(form);
        const data = new FormData(form);
        const body = form.enctype === "multipart/form-data" ? data : new URLSearchParams(data);
        return fetch(form.action, {method: "POST", body, headers: {
            "Accept": "application/json", "X-CSRF-Token": document.querySelector("meta[name=csrf]").content}});
    };
    const freshToken = async () => {
        const session = await (await fetch("/api/session")).json();
        document.querySelector("meta[name=csrf]").content = session.csrf;
        // Somebody else has signed in meanwhile, in another window: nothing is sent in that name.
        return session.account === (document.body.dataset.account || "");
    };

    const send = async form => {
        if (form.dataset.busy) return;
        form.dataset.busy = "yes";
        delete form.dataset.signedOut;
        form.querySelectorAll("button").forEach(b => b.disabled = true);
        clear(form);
        try {
            let answer = await post(form);
            if (answer.status === 403 && await freshToken()) answer = await post(form);
            if (answer.status === 401) {
                signInAgain(form);
                return;
            }
            if (answer.ok) {
                forget(form);
                const done = await answer.json();
                if (form.hasAttribute("data-stay")) note(form, "action", line(done.message || say(document.body, "done")));
                else if (done.page === location.pathname + location.search) location.reload();
                else location.assign(done.page);
                return;
            }
            if (answer.status >= 500) throw new Error("the logger answered " + answer.status);
            if (!form.hasAttribute("data-now")) keep(form, false);
            showProblem(form, await answer.json());
        } catch (notReached) {
            if (form.hasAttribute("data-now")) {
                note(form, "danger", line(say(form, "unreached"), "state danger"));
            } else {
                keep(form, true);
                tell(form, "waiting");
            }
        } finally {
            delete form.dataset.busy;
            form.querySelectorAll("button").forEach(b => b.disabled = false);
        }
    };
    const waiting = () => [...document.querySelectorAll("form[data-keep]")].filter(f => read(f)?.pending);

    document.addEventListener("input", event => {
        const form = event.target.closest("form[data-keep]");
        if (form && !form.hasAttribute("data-now")) keep(form, false);
    });
    document.addEventListener("submit", event => {
        const form = event.target.closest("form[data-keep]");
        if (!form) return;
        event.preventDefault();
        send(form);
    });
    document.addEventListener("change", event => {
        if (event.target.matches("select[data-go]")) event.target.form.submit();
    });
    document.addEventListener("DOMContentLoaded", () =>
        document.querySelectorAll("form[data-keep]:not([data-now])").forEach(restore));
    window.addEventListener("online", () => waiting().forEach(send));
    // Back from signing in elsewhere; until then trying again would only be refused again.
    window.addEventListener("focus", () => waiting().forEach(send));
    setInterval(() => waiting().filter(f => !f.dataset.signedOut).forEach(send), RETRY_MS);
})();

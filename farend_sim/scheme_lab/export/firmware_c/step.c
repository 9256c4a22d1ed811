
typedef struct { int input; int reply; fe_us hold; } fe_heard;
typedef struct { fe_us at; int closed; int voice; bool greeting; bool begins_hold; } fe_step;

typedef struct {
    /* what has been keyed, and whether the unit attends */
    bool attentive; bool paused; int keys_count; int waiting_count; int refusals;
    char keys[FE_KEYS_MOST]; char waiting[FE_KEYS_MOST];
    fe_us key_deadline; fe_us locked_until;
    /* what the unit is about */
    int state; int closed; int voice;
    fe_us hold_deadline; fe_us hold; fe_us set_hold; fe_us opened; fe_us taken;
    fe_step plan[8]; int plan_count;
    fe_emit emit; void *context; int emitted;
} fe_unit;

static void fe_out(fe_unit *u, int kind, fe_us at, int closed, int voice)
{
    fe_effect effect = { kind, at, closed, voice };
    u->emitted++;
    u->emit(u->context, &effect);
}

/* ---- keys ---- */

static void fe_forget_keys(fe_unit *u)
{
    u->keys_count = u->waiting_count = 0;
    u->paused = false;
    u->key_deadline = FE_NONE;
}

static void fe_reset_keys(fe_unit *u)
{
    u->attentive = false;
    fe_forget_keys(u);
    u->refusals = 0;
    u->locked_until = 0;
}

static void fe_attend(fe_unit *u, fe_us now)
{
    u->attentive = true;
    fe_forget_keys(u);
    u->key_deadline = now + FE_ATTENTION;
}

static void fe_attend_not(fe_unit *u)
{
    if (u->attentive) {
        u->attentive = false;
        fe_forget_keys(u);
    }
}

static bool fe_refused(fe_unit *u, fe_us now, fe_heard *heard)
{
    fe_attend_not(u);
    u->refusals++;
    if (FE_REFUSALS_TO_LOCK && u->refusals >= FE_REFUSALS_TO_LOCK) {
        u->refusals = 0;
        u->locked_until = now + FE_LOCK;
    }
    heard->input = FE_IN_REFUSE;
    return true;
}

static bool fe_hear_knock(fe_unit *u, char key, fe_us now, fe_heard *heard)
{
    int skip, seen;
    u->keys[u->keys_count++] = key;
    seen = u->keys_count;
    for (skip = 0; skip < seen; skip++)
        if (seen - skip <= FE_KNOCK_KEYS
            && memcmp(u->keys + skip, fe_knock, (size_t)(seen - skip)) == 0)
            break;
    memmove(u->keys, u->keys + skip, (size_t)(seen - skip));
    u->keys_count = seen - skip;
    if (u->keys_count == FE_KNOCK_KEYS) {
        fe_attend(u, now);
        heard->input = FE_IN_KNOCK;
        return true;
    }
    u->key_deadline = u->keys_count ? now + FE_GAP : FE_NONE;
    return false;
}

static bool fe_is_sound(const fe_unit *u, const fe_command *of)
{
    int at, interim = 0, body = of->length - (FE_END != 0);
    for (at = of->prefix_keys; at < body; at++)
        if (u->keys[at] < '0' || u->keys[at] > '9')
            return false;
    if (of->checked_from < 0)
        return true;
    for (at = of->checked_from; at < body; at++)
        interim = fe_check_table[interim][u->keys[at] - '0'];
    return interim == 0;
}

static const fe_command *fe_match(const fe_unit *u)
{
    int n;
    for (n = 0; n < FE_COMMANDS; n++) {
        const fe_command *of = &fe_commands[n];
        if (u->keys_count == of->length
            && memcmp(u->keys, of->prefix, (size_t)of->prefix_keys) == 0)
            return fe_is_sound(u, of) ? of : 0;
    }
    return 0;
}

static fe_us fe_argument(const fe_unit *u, const fe_command *of)
{
    fe_us asked = 0;
    int n;
    for (n = 0; n < of->argument_digits; n++)
        asked = 10 * asked + (u->keys[of->prefix_keys + n] - '0');
    asked *= 1000000;
    return of->shortest <= asked && asked <= of->longest ? asked : FE_NONE;
}

static bool fe_judge(fe_unit *u, fe_us now, fe_heard *heard)
{
    const fe_command *of = fe_match(u);
    fe_us hold;
    if (!of || !((of->taken_in >> u->state) & 1u))
        return fe_refused(u, now, heard);
    hold = of->hold;
    if (of->input == FE_IN_SET_HOLD && (hold = fe_argument(u, of)) == FE_NONE)
        return fe_refused(u, now, heard);
    if (u->waiting_count && (u->waiting_count != u->keys_count
                             || memcmp(u->waiting, u->keys, (size_t)u->keys_count) != 0))
        return fe_refused(u, now, heard);
    if (of->confirmed && !u->waiting_count) {
        int count = u->keys_count;
        fe_attend(u, now);
        memcpy(u->waiting, u->keys, (size_t)count);
        u->waiting_count = count;
        return false;
    }
    u->refusals = 0;
    if (of->keeps_attention)
        fe_attend(u, now);
    else
        fe_attend_not(u);
    heard->input = of->input;
    heard->reply = of->reply;
    heard->hold = hold;
    return true;
}

/* Without an end key: a command is whole, or none can come of these keys. */
static bool fe_is_decided(const fe_unit *u)
{
    int n;
    bool possible = false;
    for (n = 0; n < FE_COMMANDS; n++) {
        const fe_command *of = &fe_commands[n];
        int common = u->keys_count < of->prefix_keys ? u->keys_count : of->prefix_keys;
        if (u->keys_count <= of->length && memcmp(u->keys, of->prefix, (size_t)common) == 0) {
            possible = true;
            if (u->keys_count == of->length)
                return true;
        }
    }
    return !possible;
}

static bool fe_hear_command(fe_unit *u, char key, fe_us now, fe_heard *heard)
{
    if (FE_START && (key == FE_START) == (u->keys_count > 0))
        return fe_refused(u, now, heard);
    u->paused = false;
    if (u->keys_count < FE_LONGEST + 1)
        u->keys[u->keys_count++] = key;
    if (FE_END ? key == FE_END : fe_is_decided(u))
        return fe_judge(u, now, heard);
    u->key_deadline = now + FE_GAP;
    return false;
}

static bool fe_hear(fe_unit *u, char key, fe_us now, fe_heard *heard)
{
    if (now < u->locked_until)
        return false;
    if (!u->attentive)
        return fe_hear_knock(u, key, now, heard);
    if (FE_RESTART && key == FE_RESTART) {
        fe_attend_not(u);
        fe_hear_knock(u, key, now, heard);
        heard->input = FE_IN_RESTART;
        return true;
    }
    return fe_hear_command(u, key, now, heard);
}

static bool fe_keys_late(fe_unit *u, fe_us now, fe_heard *heard)
{
    bool lapsed = u->attentive;
    if (lapsed && u->keys_count && !u->paused && FE_LEFTOVER != 'c') {
        u->paused = FE_LEFTOVER == 'k';
        if (!u->paused)
            u->keys_count = 0;
        u->key_deadline = now + FE_ATTENTION;
        return false;
    }
    u->attentive = false;
    fe_forget_keys(u);
    heard->input = FE_IN_LAPSE;
    return lapsed;
}

/* ---- contacts and sounds yet to come ---- */

typedef struct { fe_unit *u; fe_us at; fe_us ready; int closed; bool greeting; } fe_planner;

static void fe_plan_step(fe_planner *p, int closed, int voice, bool greeting, bool begins_hold)
{
    fe_step step;
    if (closed & ~p->closed && p->at < p->ready)
        p->at = p->ready;
    if (p->closed & ~closed)
        p->ready = p->at + FE_OPERATE;
    p->closed = closed;
    step.at = p->at;
    step.closed = closed;
    step.voice = voice;
    step.greeting = greeting;
    step.begins_hold = begins_hold;
    p->u->plan[p->u->plan_count++] = step;
}

/* Break before make: what has to open does so first, and has its time. */
static void fe_plan_way(fe_planner *p, int goal, int voice, bool first, bool last, bool begins_hold)
{
    int kept = p->closed & goal;
    fe_us start = p->at;
    bool opening = kept != p->closed;
    if (opening)
        fe_plan_step(p, kept, kept == goal ? voice : FE_NOTHING, kept == goal ? last : first,
                     begins_hold && kept == goal);
    if (kept != goal || !opening) {
        if (opening && p->at < start + FE_OPERATE)
            p->at = start + FE_OPERATE;
        fe_plan_step(p, goal, voice, last, begins_hold);
    }
}

static void fe_plan_settle(fe_planner *p, int goal, int voice, bool begins_hold)
{
    fe_plan_way(p, goal, voice, p->greeting, false, begins_hold);
}

static void fe_plan_reply(fe_planner *p, int voice, bool greeting)
{
    p->greeting = greeting;
    fe_plan_way(p, (p->closed & FE_SERIES) | FE_TONE, voice, greeting, greeting, false);
    p->at += fe_voices[voice].duration;
}

static bool fe_holds(int state)
{
    return (FE_HOLD_STATES >> state) & 1u;
}

static void fe_plan(fe_unit *u, int action, const fe_heard *heard, fe_us now)
{
    fe_planner p;
    int goal = fe_settled[u->state], reply = heard->reply;
    p.u = u;
    p.at = now;
    p.ready = u->opened + FE_OPERATE;
    p.closed = u->closed;
    p.greeting = false;
    u->plan_count = 0;
    if (action == FE_DO_END || action == FE_DO_WAKE)
        fe_plan_settle(&p, goal, FE_NOTHING, false);
    if (action == FE_DO_REFUSE)
        reply = FE_REPLY_REFUSED;
    if (action == FE_DO_END)
        reply = FE_REPLY_OVER;
    if (action == FE_DO_WAKE)
        reply = FE_REPLY_AWAKE;
    if (action == FE_DO_GREET) {
        fe_plan_settle(&p, u->closed & goal, FE_NOTHING, false);
        p.at += FE_KNOCK_REPLY_DELAY;
        fe_plan_reply(&p, fe_replies[FE_REPLY_KNOCK][u->state], true);
    } else if (reply != FE_NOTHING) {
        p.at += FE_REPLY_DELAY;
        fe_plan_reply(&p, fe_replies[reply][u->state], false);
    }
    fe_plan_settle(&p, goal, u->state == FE_ST_TONE ? FE_VOICE_TONE : FE_NOTHING,
                   fe_holds(u->state) && u->hold_deadline == FE_NONE);
}

static void fe_set(fe_unit *u, int closed, fe_us at)
{
    if (!(closed & FE_TONE) && u->voice != FE_NOTHING) {
        u->voice = FE_NOTHING;
        fe_out(u, FE_SILENCE, at, 0, FE_NOTHING);
    }
    if (closed != u->closed) {
        if (u->closed & ~closed)
            u->opened = at;
        u->closed = closed;
        fe_out(u, FE_CONTACTS, at, closed, FE_NOTHING);
    }
}

static void fe_play(fe_unit *u, fe_us now)
{
    while (u->plan_count && u->plan[0].at <= now) {
        fe_step step = u->plan[0];
        u->plan_count--;
        memmove(u->plan, u->plan + 1, (size_t)u->plan_count * sizeof u->plan[0]);
        fe_set(u, step.closed, step.at);
        /* A tone that sounds already is not begun anew. */
        if (step.voice != FE_NOTHING
            && !(step.voice == FE_VOICE_TONE && u->voice == FE_VOICE_TONE)) {
            u->voice = step.voice;
            fe_out(u, FE_SOUND, step.at, 0, step.voice);
        }
        if (step.begins_hold)
            u->hold_deadline = step.at + u->hold;
    }
}

static void fe_drop_greeting(fe_unit *u)
{
    int n, kept = 0;
    bool any = false;
    for (n = 0; n < u->plan_count; n++)
        any = any || (u->plan[n].greeting && u->plan[n].voice != FE_NOTHING);
    if (!any)
        return;
    for (n = 0; n < u->plan_count; n++)
        if (!u->plan[n].greeting)
            u->plan[kept++] = u->plan[n];
    u->plan_count = kept;
}

/* ---- the table decides ---- */

static void fe_take(fe_unit *u, const fe_heard *heard, fe_us now)
{
    fe_cell cell = fe_table[u->state][heard->input];
    bool by_hand = heard->input >= FE_IN_BUTTON;
    u->state = cell.state;
    if ((FE_REST_STATES >> u->state) & 1u)
        fe_attend_not(u);
    else if (heard->input == FE_IN_HOLD_OVER_ATTENTIVE)
        fe_attend(u, now);
    if (cell.action == FE_DO_IGNORE)
        return;
    if (by_hand)
        fe_reset_keys(u);
    u->taken = now;
    if (cell.action == FE_DO_DROP || cell.action == FE_DO_SLEEP) {
        fe_reset_keys(u);
        u->set_hold = u->hold = 0;
        u->hold_deadline = FE_NONE;
    }
    if (cell.action == FE_DO_DROP) {
        u->plan_count = 0;
        if (u->voice != FE_NOTHING)
            fe_out(u, FE_SILENCE, now, 0, FE_NOTHING);
        u->voice = FE_NOTHING;
        if (u->closed != FE_SERIES)
            fe_out(u, FE_CONTACTS, now, FE_SERIES, FE_NOTHING);
        u->closed = FE_SERIES;
        return;
    }
    if (cell.action == FE_DO_HOLD)
        u->hold = u->set_hold ? u->set_hold : heard->hold;
    if (cell.action == FE_DO_SET_HOLD)
        u->set_hold = heard->hold;
    if (cell.action == FE_DO_HOLD || !fe_holds(u->state))
        u->hold_deadline = FE_NONE;
    if (u->voice != FE_NOTHING && u->voice != FE_VOICE_TONE) {
        u->voice = FE_NOTHING;
        fe_out(u, FE_SILENCE, now, 0, FE_NOTHING);
    }
    fe_plan(u, cell.action, heard, now);
    fe_play(u, now);
}

static fe_us fe_least(fe_us one, fe_us other)
{
    return one < other ? one : other;
}

fe_us fe_deadline(const fe_unit *u)
{
    fe_us due = u->plan_count ? u->plan[0].at : FE_NONE;
    due = fe_least(due, fe_least(u->hold_deadline, u->key_deadline));
    return u->state == FE_ST_IDLE ? fe_least(due, u->taken + FE_SLEEP_AFTER) : due;
}

static void fe_run_out(fe_unit *u, fe_us due)
{
    fe_heard heard = { 0, FE_NOTHING, 0 };
    if (u->hold_deadline <= due) {
        u->hold_deadline = FE_NONE;
        heard.input = FE_KNOCK_AFTER_HOLD ? FE_IN_HOLD_OVER : FE_IN_HOLD_OVER_ATTENTIVE;
        fe_take(u, &heard, due);
    } else if (u->key_deadline <= due) {
        if (fe_keys_late(u, due, &heard))
            fe_take(u, &heard, due);
    } else if (u->state == FE_ST_IDLE && u->taken + FE_SLEEP_AFTER <= due) {
        heard.input = FE_IN_SLEEP_DUE;
        fe_take(u, &heard, due);
    }
}

void fe_wake(fe_unit *u, fe_us now)
{
    fe_us due;
    while ((due = fe_deadline(u)) != FE_NONE && due <= now) {
        u->emitted = 0;
        fe_play(u, due);
        if (!u->emitted)
            fe_run_out(u, due);
    }
}

void fe_handle(fe_unit *u, int event, char key, fe_us now)
{
    fe_heard heard = { 0, FE_NOTHING, 0 };
    fe_wake(u, now - 1);
    if (event == FE_KEY) {
        fe_drop_greeting(u);
        if (!fe_hear(u, key, now, &heard))
            return;
    } else {
        heard.input = FE_IN_BUTTON + event - FE_BUTTON;
    }
    fe_take(u, &heard, now);
}

void fe_start(fe_unit *u, fe_emit emit, void *context)
{
    memset(u, 0, sizeof *u);
    fe_reset_keys(u);
    u->state = FE_ST_IDLE;
    u->closed = FE_SERIES;
    u->voice = FE_NOTHING;
    u->hold_deadline = FE_NONE;
    u->opened = -FE_OPERATE;
    u->emit = emit;
    u->context = context;
}

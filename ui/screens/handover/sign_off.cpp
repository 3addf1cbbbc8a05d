// Signing off: the name, in what capacity, and the signature, for the record as it is now; and what was signed.
#include <algorithm>

#include "core/job/field_text.h"
#include "core/session/changes.h"
#include "ui/frame/text.h"
#include "ui/screens/common/parts.h"
#include "ui/screens/common/screen.h"
#include "ui/screens/common/words.h"
#include "ui/screens/handover/pages.h"
#include "ui/screens/handover/signed.h"
#include "ui/widgets/signature.h"
#include "ui/widgets/widgets.h"

namespace tapwright::ui {
namespace {

// Which state somebody signed for.
enum class SignedFor : std::uint8_t { this_record, earlier, unknown };

SignedFor signed_for(const Session& session, const Signoff& signoff) {
    if (!signoff.sheet) return SignedFor::unknown;
    return signoff.sheet->hex == session.state() ? SignedFor::this_record : SignedFor::earlier;
}

Message word_of(SignedFor what) {
    switch (what) {
        case SignedFor::this_record:
            return Message("Signed for this record");
        case SignedFor::earlier:
            return Message("Record changed since");
        case SignedFor::unknown:
            break;
    }
    return Message("For an earlier record");
}

Tone tone_of(SignedFor what) {
    return what == SignedFor::this_record ? Tone::good : Tone::warning;
}

Message role_and_time(const Signoff& signoff, const Shared& shared) {
    return read_out(
        {signoff.role ? Message(entered(*signoff.role)) : Message(),
         signoff.time ? Message(Moment{shared.ports.local_time(signoff.time->text)}) : Message("day not recorded")});
}

class SignOff : public TitledScreen {
public:
    explicit SignOff(Shared& shared) : TitledScreen(shared, Message("Sign off")) {}
    void draw(Context& context) override {
        const Session& session = *context.session;
        const std::string state = code_of_state(session.state());
        quiet_paragraph(context, Message("For the record as it is now, code {code}.", {{"code", code(state)}}));
        const Choice roles[] = {{Message("For the owner")}, {Message("For the contractor")}};
        if (const int tapped = choice_row(context, "sign.role", roles, role_); tapped >= 0) choose(tapped);
        // The keyboard comes to the field a frame after it is asked for, and what is typed then must not be lost.
        if (frames_ < 3) ++frames_, context.requests.another_frame();
        text_field(context, "sign.name", Message("Name"), "", name_,
                   {.hint = Message("who signs"), .focus = frames_ == 1, .is_new = true});
        signature_field(context, "sign.field", Message("Sign here"), signature_, context.low ? 130 : 220);
        if (!signature_.strokes.empty() &&
            button(context, "sign.clear", Message("Sign again"), {.shape = Shape::erase}))
            signature_ = {};
        quiet_paragraph(context, Message("Without a signature the sheet has a line to sign on paper."));
    }
    bool has_foot(Context&) override { return true; }
    void draw_foot(Context& context) override {
        if (button(context, "sign.save", Message("Save sign-off"),
                   {.kind = ButtonKind::primary, .enabled = !name_.text.empty(), .shape = Shape::check}))
            save(context);
    }
    Message on_the_way_out() override {
        if (name_.text.empty() && signature_.strokes.empty()) return {};
        return is_saved_ ? Message() : Message("The sign-off was not saved.");
    }

private:
    // The contractor's name is known: it is that of who works here.
    void choose(int role) {
        const std::string person = shared_.author().person;
        if (role == 1 && name_.text.empty()) name_ = {person, false, true, {}};
        if (role == 0 && name_.text == person) name_ = {};
        role_ = role;
    }

    void save(Context& context) {
        Map fields{{"name", name_.text},
                   {"role", role_ == 0 ? context.words.text(Message("for the owner"))
                                       : context.words.text(Message("for the contractor"))},
                   {"time", shared_.stamp().time},
                   {"sheet", context.session->state()}};
        List strokes;
        for (const auto& stroke : signature_.strokes) {
            List numbers;
            for (const auto& [x, y] : stroke) numbers.emplace_back(x), numbers.emplace_back(y);
            strokes.emplace_back(std::move(numbers));
        }
        if (!strokes.empty()) fields.emplace_back("strokes", std::move(strokes));
        is_saved_ = true;
        shared_.ask(context, {adding(Kind::signoff, std::move(fields))},
                    Message("Signed off by {name}", {{"name", entered(name_.text)}}));
        context.requests.back();
    }

    int role_ = 0;
    Draft name_;
    SignatureDraft signature_;
    bool is_saved_ = false;
    int frames_ = 0;  // drawn of this page, as far as they matter
};

class SignedScreen : public ScreenOfRecord {
public:
    SignedScreen(Shared& shared, Id signoff) : ScreenOfRecord(shared, std::move(signoff), Message("Sign-off")) {}

private:
    bool is_there(const Job& job) const override { return job.find<Signoff>(id_); }
    Message title_of_record(Context&, const Job& job) override { return entered(name_of(job, id_)); }
    void draw_record(Context& context, const Job& job) override {
        const Signoff& signoff = *job.find<Signoff>(id_);
        const SignedFor what = signed_for(*context.session, signoff);
        quiet_paragraph(context, role_and_time(signoff, shared_));
        if (signoff.strokes && !signoff.strokes->empty()) {
            Card card(context);
            const float width = std::min(width_left(), context.px(400));
            signature_picture(context, "signed.picture",
                              Message("Signature of {name}", {{"name", entered(name_of(job, id_))}}), *signoff.strokes,
                              width, width * 0.4F);
        }
        tone_box(context, "signed.state", tone_of(what), sentence_of(what));
        if (signoff.sheet)
            label_value(context, "signed.code", Message("Code of the record signed"),
                        code(code_of_state(signoff.sheet->hex)));
        space(context, 12);
        if (button(context, "signed.remove", Message("Remove"), {.kind = ButtonKind::danger, .shape = Shape::cross}))
            asked_ = true;
        if (ask(context, "signed.remove_ask", Message("Remove this sign-off?"), Message("Undo restores it."),
                Message("Remove it"), Message("Cancel"), asked_) != Answer::yes)
            return;
        shared_.ask(context, removal(job, Kind::signoff, id_), Message("Sign-off removed"));
        context.requests.back();
    }

    static Message sentence_of(SignedFor what) {
        switch (what) {
            case SignedFor::this_record:
                return Message("Signed for the record as it is now.");
            case SignedFor::earlier:
                return Message("The record has changed since. Sign off again for the record as it is now.");
            case SignedFor::unknown:
                break;
        }
        return Message("Which state was signed is not recorded. Sign off again for the record as it is now.");
    }

    bool asked_ = false;
};

}  // namespace

std::vector<SignedRow> signed_rows(const Session& session, const Shared& shared) {
    std::vector<SignedRow> rows;
    for (const Signoff& signoff : session.job().all<Signoff>()) {
        const SignedFor what = signed_for(session, signoff);
        Row row;
        row.title = entered(name_of(session.job(), signoff.id));
        row.detail = role_and_time(signoff, shared);
        row.tone = tone_of(what);
        row.word = word_of(what);
        row.chevron = true;
        rows.insert(rows.begin(), {signoff.id, std::move(row)});
    }
    return rows;
}

std::unique_ptr<Screen> sign_off_screen(Shared& shared) {
    return std::make_unique<SignOff>(shared);
}

std::unique_ptr<Screen> signed_screen(Shared& shared, const Id& signoff) {
    return std::make_unique<SignedScreen>(shared, signoff);
}

}  // namespace tapwright::ui

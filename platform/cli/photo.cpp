// photo: one picture into a job.
#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "platform/cli/command.h"
#include "platform/handover/photo_files.h"
#include "platform/system/stamps.h"

namespace tapwright::cli {
namespace {

// "caption=..." and the like as fields of the photo.
Result<Map> fields_from(std::span<const std::string> given) {
    Map fields;
    for (const std::string& text : given) {
        const std::size_t equals = text.find('=');
        const std::string name = text.substr(0, equals);
        const bool known = name == "caption" || name == "share" || name == "taken" || name == "pin";
        if (equals == std::string::npos || !known)
            return Refusal{Message(
                "\"{text}\" does not belong to a photo. Use {fields}.",
                {{"text", entered(cited(text))},
                 {"fields", series(std::vector<Argument>{code("caption="), code("share=owner|technician|private"),
                                                         code("taken="), code("pin=x,y")},
                                   Series::Last::with_or)}})};
        const Result<Value> value = value_from_text(*find_field(Kind::photo, name), text.substr(equals + 1));
        if (!value) return placed(code(name), value.refusal());
        for (const auto& [other, held] : fields)
            if (other == name) return given_twice(name);
        if (!value->is_null()) fields.emplace_back(name, *value);
    }
    return fields;
}

Message said_of(const AddedPhoto& added, const std::string& about, bool has_fields) {
    const std::vector<Named> named{
        {"photo", code(added.id.text())}, {"record", entered(about)}, {"hash", code(added.sha256)}};
    if (added.kept) return Message(Pattern("Added photo {photo} of {record}, SHA-256 {hash}."), named);
    return sentences({Message(Pattern("Already there: photo {photo} of {record}, SHA-256 {hash}."), named),
                      has_fields ? Message("Its record now says what you gave with it.") : Message()});
}

}  // namespace

Result<int> take_photo(const Call& call) {
    Result<Session> session = Session::open(call.arguments[0], Access::write);
    if (!session) return session.refusal();
    TAPWRIGHT_TAKE(about, record_named(session->job(), call.arguments[1]));
    TAPWRIGHT_TAKE(fields, fields_from(std::span(call.arguments).subspan(3)));
    TAPWRIGHT_TAKE(author, author_for(call, *session));
    TAPWRIGHT_TAKE(added, add_photo(*session, about, call.arguments[2], fields, author, make_stamp()));
    if (call.json())
        print(pretty_json(Map{{"id", added.id.text()}, {"sha256", added.sha256}, {"added", added.kept}}));
    else
        print_line(call.words, said_of(added, name_of(session->job(), about), !fields.empty()));
    return status_of(session->derived());
}

}  // namespace tapwright::cli

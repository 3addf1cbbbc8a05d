// photo: one picture into a job.
#include "core/base/text.h"
#include "core/job/field_text.h"
#include "core/job/json.h"
#include "platform/cli/command.h"
#include "platform/handover/photo_files.h"
#include "platform/system/stamps.h"
#include "core/words/words.h"

namespace tapwright::cli {

Result<int> take_photo(const Call& call) {
    Result<Session> session = Session::open(call.arguments[0], Access::write);
    if (!session) return session.refusal();
    if (!Id::is_valid(call.arguments[1]) || !session->job().kind_of(Id(call.arguments[1])))
        return Refusal{"There is no record with the id " + cited(call.arguments[1]) +
                       " in this job; `tapwright export FILE OUT.json` shows all of them."};
    Map fields;
    for (std::size_t i = 3; i < call.arguments.size(); ++i) {
        const std::string& word = call.arguments[i];
        const std::size_t equals = word.find('=');
        const std::string name = word.substr(0, equals);
        const bool known = name == "caption" || name == "share" || name == "taken" || name == "pin";
        if (equals == std::string::npos || !known)
            return Refusal{cited(word) + " is none of caption=, share=owner|technician|private, taken= and pin=x,y."};
        const Result<Value> value = value_from_text(*find_field(Kind::photo, name), word.substr(equals + 1));
        if (!value) return placed(entered(name), value.refusal());
        for (const auto& [given, held] : fields)
            if (given == name) return Refusal{name + " stands twice; give it once."};
        if (!value->is_null()) fields.emplace_back(name, *value);
    }
    const Result<Author> author = author_for(call, *session);
    if (!author) return author.refusal();
    const bool is_given = !fields.empty();
    const Result<AddedPhoto> added =
        add_photo(*session, Id(call.arguments[1]), call.arguments[2], std::move(fields), *author, make_stamp());
    if (!added) return added.refusal();
    if (call.json())
        print(pretty_json(Map{{"id", added->id.text()}, {"sha256", added->sha256}, {"added", added->kept}}));
    else
        print((added->kept ? "Added photo " : "This photo was there already, as photo ") + added->id.text() + " of " +
              name_of(session->job(), Id(call.arguments[1])) + ", SHA-256 " + added->sha256 + "." +
              (added->kept || !is_given ? "" : " Its record now says what you gave with it.") + "\n");
    return status_of(session->derived());
}

}  // namespace tapwright::cli

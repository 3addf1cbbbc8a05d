#include "platform/print/xmp.h"

#include <string_view>

namespace tapwright::print {
namespace {

// XML 1.0 has no U+FFFE and U+FFFF.
bool is_no_character(std::string_view three) {
    return three == "\xEF\xBF\xBE" || three == "\xEF\xBF\xBF";
}

std::string escaped(const std::string& text) {
    std::string out;
    for (std::size_t k = 0; k < text.size(); ++k) {
        if (is_no_character(std::string_view(text).substr(k, 3))) {
            out += "\xEF\xBF\xBD";
            k += 2;
        } else if (text[k] == '&') {
            out += "&amp;";
        } else if (text[k] == '<') {
            out += "&lt;";
        } else if (text[k] == '>') {
            out += "&gt;";
        } else {
            out += text[k];
        }
    }
    return out;
}

}  // namespace

std::string xmp(const std::string& title, const std::string& author, const std::string& language) {
    std::string text =
        "<?xpacket begin=\"\xEF\xBB\xBF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
        "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">"
        "<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\">\n";
    text += "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">" + escaped(title) + "</rdf:li></rdf:Alt></dc:title>\n";
    if (!author.empty())
        text += "<dc:creator><rdf:Seq><rdf:li>" + escaped(author) + "</rdf:li></rdf:Seq></dc:creator>\n";
    text += "<dc:language><rdf:Bag><rdf:li>" + escaped(language) + "</rdf:li></rdf:Bag></dc:language>\n";
    return text + "</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"w\"?>\n";
}

}  // namespace tapwright::print

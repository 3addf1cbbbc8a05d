// Source of the expected digests: the example vectors NIST publishes with FIPS 180-4 (messages "abc", the 448-bit and
// the 896-bit message, one million times "a"), and the digest of the empty message.
#include "core/base/sha256.h"

#include <doctest/doctest.h>

using namespace tapwright;

TEST_CASE("SHA-256 gives the digests that FIPS 180-4's examples print") {
    CHECK(hex(sha256("")) == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    CHECK(hex(sha256("abc")) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(hex(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq")) ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(hex(sha256("abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnopjklmnopqklmnopqrlmnopqrs"
                     "mnopqrstnopqrstu")) == "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1");
    CHECK(hex(sha256(std::string(1000000, 'a'))) == "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("SHA-256 does not care how the message is cut") {
    const std::string message(517, 'q');
    for (std::size_t cut = 0; cut <= message.size(); cut += 13) {
        Sha256 hash;
        hash.add(std::string_view(message).substr(0, cut)).add(std::string_view(message).substr(cut));
        CHECK(hex(hash.finish()) == hex(sha256(message)));
    }
}

TEST_CASE("framed texts cannot run together") {
    CHECK(Sha256().add_framed("ab").add_framed("c").finish() != Sha256().add_framed("a").add_framed("bc").finish());
}

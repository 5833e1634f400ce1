"""One question by multicast DNS as a simple resolver asks it (RFC 6762, 5.1), by dnspython alone.

``python -m tests.lan.question NAME THROUGH [UNICAST]`` prints who answered, and what.
"""

import json
import socket
import sys
import time

import dns.message
import dns.rdatatype

GROUP = "224.0.0.251"
PORT = 5353
WAIT_S = 1.5


def main(name: str, through: str, unicast: str) -> None:
    """Ask from a port of our own, so that the answer comes to us alone."""
    question = dns.message.make_query(name, "A")
    answers = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as line:
        line.bind((through, 0))
        line.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_IF, socket.inet_aton(through))
        line.sendto(question.to_wire(), (unicast or GROUP, PORT))
        ends = time.monotonic() + WAIT_S
        while (left := ends - time.monotonic()) > 0:
            line.settimeout(left)
            try:
                wire, (sender, _) = line.recvfrom(9000)
            except TimeoutError:
                break
            answers.append({"from": sender, **read(wire, question.id)})
    print(json.dumps(answers))


def read(wire: bytes, asked_id: int) -> dict[str, object]:
    """What an answer says."""
    # Beside the answer stands a record of what there is not (NSEC), whose names are shortened as
    # RFC 6762, 18.14 allows here and dnspython does not know.
    answer = dns.message.from_wire(wire, continue_on_error=True)
    found = [one for one in answer.answer if one.rdtype == dns.rdatatype.A]
    return {
        "is_ours": answer.id == asked_id,
        "name": found[0].name.to_text() if found else "",
        "addresses": sorted(record.address for one in found for record in one),
        "ttl_s": max((one.ttl for one in found), default=None),
    }


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], sys.argv[3] if len(sys.argv) > 3 else "")

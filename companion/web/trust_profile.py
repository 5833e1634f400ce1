"""The authority's certificate as a configuration profile, the form iPhone, iPad and Mac take.

Keys from memory of the maker's published profile format; the form itself is a property list.
"""

import plistlib
import uuid
from typing import Any

CONTENT_TYPE = "application/x-apple-aspen-config"


def profile(name: str, certificate_der: bytes, description: str) -> bytes:
    """A profile that holds one root certificate and nothing else.

    :param name: DNS name of the shop; the same name's next profile takes this one's place.
    :param certificate_der: certificate of the authority.
    :param description: what the phone shows before it installs.
    """
    identifier = ".".join([*reversed(name.split(".")), "scale-companion"])
    certificate = _payload("com.apple.security.root", f"{identifier}.authority", name, description)
    certificate["PayloadCertificateFileName"] = "scale-companion.cer"
    certificate["PayloadContent"] = certificate_der
    whole = _payload("Configuration", identifier, name, description)
    whole["PayloadOrganization"] = "Scale Companion"
    whole["PayloadContent"] = [certificate]
    return plistlib.dumps(whole)


def _payload(kind: str, identifier: str, name: str, description: str) -> dict[str, Any]:
    return {
        "PayloadType": kind,
        "PayloadVersion": 1,
        "PayloadIdentifier": identifier,
        "PayloadUUID": str(uuid.uuid5(uuid.NAMESPACE_DNS, identifier)).upper(),
        "PayloadDisplayName": f"Scale Companion, {name}",
        "PayloadDescription": description,
    }

using System.Security.Cryptography;
using System.Text;
using Derivid.Store.Idempotency;

namespace Derivid.Api.Http;

/// <summary>The header by which a sender marks a request as one, so that sending it again changes nothing.</summary>
/// <remarks>Source: The Idempotency-Key HTTP Header Field, Internet-Draft of the IETF HTTPAPI working group.</remarks>
public static class IdempotencyHeader
{
    /// <summary>Name of the header.</summary>
    public const string Header = "Idempotency-Key";

    /// <summary>Longest key taken. Units: characters.</summary>
    public const int LongestKey = 100;

    /// <summary>Reads the mark of a request.</summary>
    /// <param name="request">The request.</param>
    /// <param name="body">Its body.</param>
    /// <param name="actor">Who sent it.</param>
    /// <returns>The mark, null inside where the header is missing; or the problem of a key that can't be kept.</returns>
    public static Outcome<Marked> Of(HttpRequest request, string body, string actor)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request.Headers[Header].Count == 0)
        {
            return new Marked(null);
        }

        var key = request.Headers[Header].ToString().Trim().Trim('"');
        if (key.Length is 0 or > LongestKey || Text.HasControlCharacter(key))
        {
            var errors = new FieldErrors();
            errors.Add(Header, $"{Text.Quoted(key)} can't be kept; 1 to {LongestKey} characters in one line are allowed.");
            return errors.ToProblem()!;
        }

        var hash = SHA256.HashData(Encoding.UTF8.GetBytes($"{request.Method} {request.Path}\n{body}"));
        return new Marked(new IdempotencyKey(actor, key, Convert.ToHexStringLower(hash)));
    }

    /// <summary>The mark of a request, if it has one.</summary>
    /// <param name="Mark">The mark. Missing: null.</param>
    public sealed record Marked(IdempotencyKey? Mark);
}

namespace Derivid.Api.Tests.Teaching;

/// <content>What a student can send, not only ask: identifications, batches, reports and everything refused.</content>
public sealed partial class IdentitySecrecyTests
{
    // Wherever a word is taken: the code of an unknown, one of another student, a claim, and what would break a reader.
    private static readonly string[] Guesses = ["propanone", "benzaldehyde", "CODE-OF-ANN", "CODE-OF-BEN", "no such thing", ""];

    [Fact]
    public async Task EverythingAStudentCanSendIsAnsweredAlikeWhateverIsInside()
    {
        await using var room = await RoomAsync(service.Service);
        var before = await SendEverythingAsync(room);
        await ExchangeIdentitiesAsync(room);
        var after = await SendEverythingAsync(room);

        Assert.True(before.Count > 100, $"{before.Count} messages");
        Assert.Contains(before, answer => answer.Value.StartsWith("200", StringComparison.Ordinal));
        Assert.Contains(before, answer => answer.Value.StartsWith("400", StringComparison.Ordinal));
        AssertAlike(before, after);
    }

    private static async Task<SortedDictionary<string, string>> SendEverythingAsync(Classroom room)
    {
        var draft = await DraftAddressAsync(room);
        var answers = new SortedDictionary<string, string>(StringComparer.Ordinal);
        foreach (var (name, client) in new[] { ("ann", room.Ann), ("ben", room.Ben), ("stranger", room.Stranger) })
        {
            foreach (var (method, address, body) in Messages(room, draft))
            {
                using var request = new HttpRequestMessage(new HttpMethod(method), address) { Content = Requests.Json(body) };
                using var response = await client.SendAsync(request, Patience);
                answers[$"{name} {method} {address} {body}"] = Settled(
                    $"{(int)response.StatusCode}\n{response.Headers.ETag}\n{response.Headers.Location}\n" +
                    await response.Content.ReadAsStringAsync(Patience),
                    room);
            }
        }

        return answers;
    }

    /// <summary>Messages that leave nothing behind: what is taken is not kept, and what would be kept is refused.</summary>
    private static IEnumerable<(string Method, string Address, string Body)> Messages(Classroom room, string draft) =>
        from guess in Guesses
        let word = guess
            .Replace("CODE-OF-ANN", room.Codes["ann"], StringComparison.Ordinal)
            .Replace("CODE-OF-BEN", room.Codes["ben"], StringComparison.Ordinal)
        let observation = $$"""{ "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "125-127" }], "prior": { "parents": ["{{word}}", "butanone"] } }"""
        from message in new (string, string, string)[]
        {
            ("POST", Requests.Identifications + "?store=false", Requests.Propanone),
            ("POST", Requests.Identifications + "?store=false", observation),
            ("POST", Requests.Identifications + $"?store=false&course={room.Id}", Requests.Propanone),
            ("POST", Requests.Batches, $$"""{ "items": [{ "reference": "{{word}}", "observation": {{observation}} }, { "reference": "{{room.Id}}", "observation": {{Requests.Propanone}} }] }"""),
            ("POST", $"{room.Address}/reports", $$"""{ "assignment": "{{word}}", "claimedParent": "butanone", "observation": { "derivatives": [{ "kind": "{{word}}", "meltingRange": "125-127" }] } }"""),
            ("POST", $"{room.Address}/reports", $$"""{ "assignment": "{{room.Codes["ann"]}}", "claimedParent": "{{word}}", "observation": { "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "127-125" }] } }"""),
            ("PUT", draft, $$"""{ "assignment": "{{room.Codes["ben"]}}", "claimedParent": "{{word}}" }"""),
            ("POST", $"{room.Address}/grades", $$"""{ "students": ["ann"], "rubric": { "name": "{{word}}", "rightCompound": { "points": 1 } } }"""),
            ("POST", $"{room.Address}/hand-outs", $$"""{ "seed": "{{word}} {{Classroom.Seed}}" }"""),
            ("PUT", $"{room.Address}/publication", $$"""{ "grading": "{{word}}" }"""),
            ("PUT", $"{room.Address}/roster", $$"""{ "students": [{ "student": "{{word}}" }] }"""),
            ("POST", "/api/v1/structures", $$"""{ "smiles": "{{word}}" }"""),
        }
        select message;
}

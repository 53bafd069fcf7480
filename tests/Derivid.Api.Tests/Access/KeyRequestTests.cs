using Derivid.Api.Http;

namespace Derivid.Api.Tests.Access;

/// <summary>Requests about keys that make no sense, which are refused before any database is asked.</summary>
public sealed class KeyRequestTests(SqliteService service)
{
    [Theory]
    [InlineData("{}", "/name", "/role")]
    [InlineData("""{ "name": " ", "role": "student" }""", "/name")]
    [InlineData("""{ "name": "x", "role": "curator" }""", "/role")]
    [InlineData("""{ "name": "x", "role": 3 }""", "/role")]
    [InlineData("""{ "name": "x", "role": "student", "validDays": 0 }""", "/validDays")]
    [InlineData("""{ "name": "x", "role": "student", "validDays": 3651 }""", "/validDays")]
    [InlineData("""{ "name": "x", "role": "student", "secret": "mine" }""", "/secret")]
    [InlineData("""{ "name": "a\nb", "role": "student" }""", "/name")]
    public async Task KeyThatCannotBeMadeSaysWhy(string body, params string[] places)
    {
        using var administrator = service.Service.ClientWith(ServiceUnderTest.AdministratorKey);
        using var response = await administrator.PostAsync(Requests.Keys, body);

        var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);
        Assert.Equal(places, problem["errors"]!.AsObject().Select(error => error.Key));
    }

    [Theory]
    [InlineData("?limit=0", "?limit")]
    [InlineData("?cursor=x", "?cursor")]
    [InlineData("?cursor=MTIzNDU2Nzg5MDEyJw", "?cursor")]
    [InlineData("?role=boss", "?role")]
    [InlineData("?page=2", "?page")]
    public async Task QuestionThatMakesNoSenseSaysWhy(string query, string place)
    {
        using var administrator = service.Service.ClientWith(ServiceUnderTest.AdministratorKey);
        using var response = await administrator.GetAsync(Requests.Keys + query, TestContext.Current.CancellationToken);

        Assert.NotEmpty((await response.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt(place));
    }
}

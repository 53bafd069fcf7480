namespace Derivid.Api.Tests.Operating;

/// <summary>That a query which nothing answers is noticed.</summary>
public sealed class SelectorTests
{
    [Fact]
    public void QueryThatNothingAnswersIsNoticed()
    {
        var scrape = Scrape.Read("""
            derivid_queue_waiting{otel_scope_name="Derivid",derivid_queue_name="turn"} 0
            # EOF
            """);

        Assert.NotEmpty(Selector.AllOf("""sum by (instance) (derivid_queue_waiting{derivid_queue_name=~"turn|batch"}) > 5""").Single().In(scrape));
        Assert.Empty(Selector.AllOf("""derivid_queue_waiting{derivid_queue_name="batch"}""").Single().In(scrape));
        Assert.Empty(Selector.AllOf("""derivid_queue_waiting{queue="turn"}""").Single().Named(scrape));
        Assert.Empty(Selector.AllOf("max(rate(derivid_queues_waiting[$__rate_interval]))").Single().In(scrape));
        Assert.Equal(["instance_kind"], Selector.GroupedBy("sum by (instance, instance_kind) (up)"));
    }
}

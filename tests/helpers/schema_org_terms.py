"""Names of the schema.org vocabulary that our JSON-LD may use: every property of each type, inherited ones too.

Source: schema.org, as published in the npm package schema-dts 2.1.0 (its type declarations, read by a program in
November 2026; nothing was left out or added by hand).
"""

# ruff: noqa: SIM905 - long lists of terms read best as text

PROPERTIES: dict[str, frozenset[str]] = {
    "Thing": frozenset(
        """
        additionalType alternateName description disambiguatingDescription identifier image mainEntityOfPage
        name owner potentialAction sameAs subjectOf url
        """.split()
    ),
    "Product": frozenset(
        """
        additionalProperty additionalType aggregateRating alternateName asin audience
        authorizedRepresentative award awards brand category color colorSwatch consumerNotice
        countryOfAssembly countryOfLastProcessing countryOfOrigin depth description
        disambiguatingDescription displayLocation funding gtin gtin12 gtin13 gtin14 gtin8
        hasAdultConsideration hasCertification hasDigitalProductPassport hasEnergyConsumptionDetails
        hasGS1DigitalLink hasMeasurement hasMerchantReturnPolicy hasProductReturnPolicy height identifier
        image importer inProductGroupWithID isAccessoryOrSparePartFor isConsumableFor isFamilyFriendly
        isOftenBoughtWith isRelatedTo isSimilarTo isVariantOf itemCondition keywords logo mainEntityOfPage
        manufacturer material mobileUrl model mpn name negativeNotes nsn offers owner pattern positiveNotes
        potentialAction productID productionDate purchaseDate recycledContentPercentage releaseDate review
        reviews sameAs size sku slogan specification subjectOf substanceOfConcern url weight width
        """.split()
    ),
    "Offer": frozenset(
        """
        acceptedPaymentMethod addOn additionalProperty additionalType advanceBookingRequirement
        aggregateRating alternateName areaServed asin availability availabilityEnds availabilityStarts
        availableAtOrFrom availableDeliveryMethod businessFunction category checkoutPageURLTemplate
        deliveryLeadTime description disambiguatingDescription eligibleCustomerType eligibleDuration
        eligibleQuantity eligibleRegion eligibleTransactionVolume gtin gtin12 gtin13 gtin14 gtin8
        hasAdultConsideration hasDigitalProductPassport hasGS1DigitalLink hasMeasurement
        hasMerchantReturnPolicy identifier image includesObject ineligibleRegion inventoryLevel
        isFamilyFriendly itemCondition itemOffered itemPopularity leaseLength mainEntityOfPage mobileUrl mpn
        name offeredBy owner potentialAction price priceCurrency priceSpecification priceValidUntil review
        reviews sameAs seller serialNumber shippingDetails sku subjectOf url validForMemberTier validFrom
        validThrough warranty
        """.split()
    ),
    "Organization": frozenset(
        """
        acceptedPaymentMethod actionableFeedbackPolicy additionalType address agentInteractionStatistic
        aggregateRating alternateName alumni areaServed authorizedRepresentative award awards brand
        companyRegistration contactPoint contactPoints correctionsPolicy department description
        disambiguatingDescription dissolutionDate diversityPolicy diversityStaffingReport duns email
        employee employees ethicsPolicy event events faxNumber founder founders foundingDate
        foundingLocation funder funding globalLocationNumber hasCertification hasCredential
        hasGS1DigitalLink hasMemberProgram hasMerchantReturnPolicy hasOfferCatalog hasPOS
        hasProductReturnPolicy hasShippingService identifier image interactionStatistic isicV4 iso6523Code
        keywords knowsAbout knowsLanguage legalAddress legalName legalRepresentative leiCode location logo
        mainEntityOfPage makesOffer member memberOf members naics name nonprofitStatus numberOfEmployees
        owner ownershipFundingInfo owns parentOrganization potentialAction publishingPrinciples review
        reviews sameAs seeks serviceArea skills slogan sponsor subOrganization subjectOf taxID telephone
        unnamedSourcesPolicy url vatID
        """.split()
    ),
    "BreadcrumbList": frozenset(
        """
        additionalType aggregateElement alternateName description disambiguatingDescription identifier image
        itemListElement itemListOrder mainEntityOfPage name numberOfItems owner potentialAction sameAs
        subjectOf url
        """.split()
    ),
    "ListItem": frozenset(
        """
        additionalType alternateName description disambiguatingDescription identifier image item
        mainEntityOfPage name nextItem owner position potentialAction previousItem sameAs subjectOf url
        """.split()
    ),
    "WebSite": frozenset(
        """
        about abstract accessMode accessModeSufficient accessibilityAPI accessibilityControl
        accessibilityFeature accessibilityHazard accessibilitySummary accountablePerson acquireLicensePage
        additionalType aggregateRating alternateName alternativeHeadline archivedAt assesses associatedMedia
        audience audio author award awards character citation comment commentCount conditionsOfAccess
        contentLocation contentRating contentReferenceTime contributor copyrightHolder copyrightNotice
        copyrightYear correction countryOfOrigin creativeWorkStatus creator creditText dateCreated
        dateModified datePublished description digitalSourceType disambiguatingDescription discussionUrl
        displayLocation editEIDR editor educationalAlignment educationalLevel educationalUse encoding
        encodingFormat encodings exampleOfWork expires fileFormat funder funding genre hasPart headline
        identifier image inLanguage interactionStatistic interactivityType interpretedAsClaim
        isAccessibleForFree isBasedOn isBasedOnUrl isFamilyFriendly isPartOf issn keywords
        learningResourceType license locationCreated mainEntity mainEntityOfPage maintainer material
        materialExtent mentions name offers owner pattern position potentialAction producer provider
        publication publisher publisherImprint publishingPrinciples recordedAt releasedEvent review reviews
        sameAs schemaVersion sdDatePublished sdLicense sdPublisher size sourceOrganization spatial
        spatialCoverage sponsor subjectOf teaches temporal temporalCoverage text thumbnail thumbnailUrl
        timeRequired translationOfWork translator typicalAgeRange url usageInfo version video wordCount
        workExample workTranslation
        """.split()
    ),
    "PostalAddress": frozenset(
        """
        additionalType addressCountry addressLocality addressRegion alternateName areaServed
        availableLanguage contactOption contactType description disambiguatingDescription email
        extendedAddress faxNumber hoursAvailable identifier image mainEntityOfPage name owner
        postOfficeBoxNumber postalCode potentialAction productSupported sameAs serviceArea streetAddress
        subjectOf telephone url
        """.split()
    ),
}

ITEM_AVAILABILITY = frozenset(
    """
    BackOrder Discontinued InStock InStoreOnly LimitedAvailability MadeToOrder OnlineOnly OutOfStock
    PreOrder PreSale Reserved SoldOut
    """.split()
)
"""Members of the enumeration ItemAvailability."""
